import type { Random } from '../../../lib/rig/random';

/** How a text is written down. */
export interface Manner {
  delimiter: string;
  decimal: '.' | ',';
  quote: '' | '"';
  notation: 'fixed' | 'shortest' | 'scientific' | 'signed';
  mark: string;
  lead: string;
  trail: string;
  lineEnd: string;
  encoding: string;
  thousands?: string;
}

export function drawManner(random: Random, commaTwice: boolean): Manner {
  const delimiter = commaTwice ? ',' : random.pick([',', ', ', ';', '; ', '\t', ' ', '   ', ',', ';', '\t']);
  const quote = random.uniform() < 0.12 && !commaTwice ? '"' : '';
  const mayComma = commaTwice || quote !== '' || !delimiter.startsWith(',');
  return {
    delimiter,
    decimal: commaTwice || (mayComma && random.uniform() < 0.45) ? ',' : '.',
    quote,
    notation: commaTwice ? 'fixed' : random.pick(['fixed', 'fixed', 'fixed', 'shortest', 'scientific', 'signed']),
    mark: random.pick(delimiter.startsWith(';') ? ['#', '*', '//', '%'] : ['#', '*', ';', '//', '%']),
    lead: random.uniform() < 0.08 && delimiter.trim() === '' && delimiter !== '\t' ? '  ' : '',
    trail: random.uniform() < 0.06 && delimiter.trim() !== '' && !commaTwice ? delimiter.trim() : '',
    lineEnd: random.pick(['\n', '\n', '\r\n', '\r']),
    encoding: random.pick([
      'text',
      'utf8',
      'utf8',
      'utf8 mark',
      'utf16le',
      'utf16be',
      'utf16le mark',
      'utf16be mark',
      'latin1',
    ]),
  };
}

export function writeCell(value: number, places: number, manner: Manner): string {
  let text = value.toFixed(places);
  if (manner.notation === 'shortest') text = String(Number(text));
  if (manner.notation === 'scientific') text = value.toExponential(Math.max(places + 5, 8)).replace('e', 'E');
  if (manner.notation === 'signed') text = value < 0 ? text : `+${text}`;
  const [whole, rest] = text.split('.');
  const { thousands } = manner;
  const grouped = thousands === undefined || text.includes('E') ? whole : whole.replace(/\B(?=(\d{3})+$)/g, thousands);
  return rest === undefined ? grouped : grouped + manner.decimal + rest;
}

export function encode(text: string, manner: Manner): string | Uint8Array {
  const ended = text.replaceAll('\n', manner.lineEnd);
  switch (manner.encoding) {
    case 'utf8':
      return Buffer.from(ended);
    case 'utf8 mark':
      return Buffer.from(`\ufeff${ended}`);
    case 'utf16le':
      return Buffer.from(ended, 'utf16le');
    case 'utf16be':
      return Buffer.from(ended, 'utf16le').swap16();
    case 'utf16le mark':
      return Buffer.from(`\ufeff${ended}`, 'utf16le');
    case 'utf16be mark':
      return Buffer.from(`\ufeff${ended}`, 'utf16le').swap16();
    case 'latin1':
      return /[^\0-\xff]/.test(ended) ? Buffer.from(ended) : Buffer.from(ended, 'latin1');
    default:
      return ended;
  }
}
