import { setImmediate } from 'node:timers/promises';

/** So many bytes are copied at a time: a third of a millisecond. */
const SLICE = 2 ** 19;

/**
 * The same plain data with copies of all sounds, each in memory of its own that can be handed over; sounds in memory
 * that threads share are left where they are.
 *
 * What came in is left as it is. It is copied in slices between which the event loop goes on: a whole capture at once
 * would hold it up for milliseconds, and letting the message to the thread copy it for twice as long.
 */
export async function copySounds(value: unknown): Promise<unknown> {
  const copies = new Map<Uint8Array, Uint8Array>();
  mapBytes(value, (bytes) => {
    copies.set(bytes, bytes);
    return bytes;
  });
  for (const bytes of copies.keys()) if (!isShared(bytes)) copies.set(bytes, await copy(bytes));
  return mapBytes(value, (bytes) => copies.get(bytes)!);
}

function isShared({ buffer }: Uint8Array): boolean {
  return buffer instanceof SharedArrayBuffer;
}

async function copy(bytes: Uint8Array): Promise<Uint8Array> {
  const out = new Uint8Array(bytes.length);
  for (let from = 0; from < bytes.length; from += SLICE) {
    if (from > 0) await setImmediate();
    out.set(bytes.subarray(from, from + SLICE), from);
  }
  return out;
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
