/** Memory of its own up to which a sound is not worth copying before it is sent, times its length. */
const MOST_WASTE = 1.25;

/**
 * The same plain data, ready to be copied to another thread: a sound that is a small part of a larger memory is copied
 * out first, since a view is sent with all the memory behind it. What came in is not changed.
 */
export function toSend(value: unknown): unknown {
  return mapBytes(value, (bytes) =>
    bytes.buffer.byteLength > MOST_WASTE * bytes.byteLength ? Uint8Array.from(bytes) : bytes,
  );
}

/** The same with every run of bytes as a Buffer of the same memory: Node-RED passes those on without copying. */
export function asBuffers(value: unknown): unknown {
  return mapBytes(value, ({ buffer, byteOffset, byteLength }) => Buffer.from(buffer, byteOffset, byteLength));
}

/** The memory that can be handed over with a value, each once: what is behind sounds that fill theirs. */
export function memoryOf(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  mapBytes(value, (bytes) => {
    const { buffer } = bytes;
    if (buffer instanceof ArrayBuffer && buffer.byteLength === bytes.byteLength) found.add(buffer);
    return bytes;
  });
  return [...found];
}

/** A copy of plain data in which every Uint8Array is replaced; columns of numbers are left as they are. */
function mapBytes(value: unknown, change: (bytes: Uint8Array<ArrayBuffer>) => Uint8Array): unknown {
  if (value instanceof Uint8Array) return change(value as Uint8Array<ArrayBuffer>);
  if (Array.isArray(value)) {
    return typeof value[0] === 'object' ? value.map((item) => mapBytes(item, change)) : value;
  }
  if (!isPlain(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, mapBytes(item, change)]));
}

function isPlain(value: unknown): value is object {
  if (typeof value !== 'object' || value === null) return false;
  const prototype = Object.getPrototypeOf(value);
  return prototype === null || Object.getPrototypeOf(prototype) === null;
}
