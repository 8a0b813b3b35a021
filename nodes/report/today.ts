/** Of this machine's clock, as ISO 8601 writes a date. */
export function today(now = new Date()): string {
  const twoDigits = (value: number) => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${twoDigits(now.getMonth() + 1)}-${twoDigits(now.getDate())}`;
}
