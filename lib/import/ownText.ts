import type { About, Curve } from '../model/curve';

/** First line of the texts that `writeText` writes; only below it are the other comments read back. */
export const OWN_FIRST_LINE = '# Bassloom curve';

/** What our own texts say above the columns. */
export interface OwnHeader {
  label?: string;
  role?: Curve['role'];
  scale?: Curve['scale'];
  about: About;
}

const TEXTS = ['device', 'setting', 'position', 'takenAt', 'procedure'] as const;
const NUMBERS = ['driveDb', 'distanceM'] as const;
const LINES_READ = 20;

/** The comment lines of a curve: a fixed first line, then one `# key: value` line each, values as JSON. */
export function ownHeaderLines(curve: Pick<Curve, 'label' | 'role' | 'scale' | 'about'>): string[] {
  const values: [string, unknown][] = [
    ['label', curve.label],
    ['role', curve.role],
    ['scale', curve.scale],
    ...[...TEXTS, ...NUMBERS].map((key): [string, unknown] => [key, curve.about[key]]),
  ];
  return [
    OWN_FIRST_LINE,
    ...values.filter(([, value]) => value !== undefined).map(([key, value]) => `# ${key}: ${jsonInOneCell(value)}`),
  ];
}

/** Read back what `ownHeaderLines` wrote; undefined for any other text. Unknown and ill-formed lines are passed over. */
export function readOwnHeader(text: string): OwnHeader | undefined {
  if (!text.startsWith(`${OWN_FIRST_LINE}\n`)) return undefined;
  const values = new Map<string, unknown>();
  let from = OWN_FIRST_LINE.length + 1;
  for (let i = 0; i < LINES_READ && text.startsWith('# ', from); i++) {
    let to = text.indexOf('\n', from);
    if (to < 0) to = text.length;
    const colon = text.indexOf(': ', from);
    if (colon > from && colon < to) values.set(text.slice(from + 2, colon), parsed(text.slice(colon + 2, to)));
    from = to + 1;
  }
  return { ...known(values), about: aboutOf(values) };
}

function known(values: Map<string, unknown>): Omit<OwnHeader, 'about'> {
  const label = values.get('label');
  const role = values.get('role');
  const scale = values.get('scale');
  return {
    ...(typeof label === 'string' && { label }),
    ...((role === 'response' || role === 'noise' || role === 'correction') && { role }),
    ...((scale === 'spl' || scale === 'relative') && { scale }),
  };
}

function aboutOf(values: Map<string, unknown>): About {
  const about: About = {};
  for (const key of TEXTS) {
    const value = values.get(key);
    if (typeof value === 'string') about[key] = value;
  }
  for (const key of NUMBERS) {
    const value = values.get(key);
    if (typeof value === 'number') about[key] = value;
  }
  return about;
}

/** JSON without the signs at which a spreadsheet would start another cell, in which a formula could stand. */
function jsonInOneCell(value: unknown): string {
  return JSON.stringify(value).replace(
    /[,;|\u007f-\u009f\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return undefined;
  }
}
