/** A value as an error message shows it, in a few words. */
export function showValue(value: unknown): string {
  if (value === undefined) return 'missing';
  if (value === null || typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}...` : value);
  if (typeof value !== 'object') return `a ${typeof value}`;
  if (Array.isArray(value)) return value.length === 0 ? 'an empty array' : 'an array';
  const kind = Object.prototype.toString.call(value).slice(8, -1);
  return ArrayBuffer.isView(value) || kind !== 'Object' ? `a ${kind}` : 'an object';
}
