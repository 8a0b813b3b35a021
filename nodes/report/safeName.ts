import { createHash } from 'node:crypto';

/** A name that every file system takes. Where letters had to go, a mark of the whole name keeps two names apart. */
export function safeName(name: string): string {
  const safe = name
    .replace(/[\p{Cc}\p{Cf}<>:"/\\|?*]+/gu, '-')
    .replace(/^[.\s]+|[.\s]+$/g, '')
    .slice(0, 80)
    .trimEnd();
  const isReserved = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(safe);
  if (safe === name && safe !== '' && !isReserved) return safe;
  return `${safe || 'unit'}-${createHash('sha256').update(name).digest('hex').slice(0, 6)}`;
}
