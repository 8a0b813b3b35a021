import { isCorrected } from '../../response/isCorrected';
import { weightingOf } from '../../response/weightingOf';
import { makeRefusal } from '../../words/makeRefusal';
import type { Take } from './take';

/**
 * Refuse takes that are not of one unit in one setting, on one scale and treated alike.
 *
 * @throws BassloomError `mixed-devices`, `mixed-settings`, `mixed-scales`, `mixed-curves` (only some corrected for the
 * microphone), `weighted-curves`.
 */
export function checkAlike(takes: Take[]): void {
  const responses = takes.flatMap((take) => take.responses);
  const harmonics = takes.flatMap((take) => [...take.harmonics.values()].flat());
  const [first] = responses;
  const weighted = responses.find((one) => weightingOf(one) !== undefined);
  if (weighted) {
    const values = { label: weighted.label, weighting: weightingOf(weighted) as string };
    throw makeRefusal('weighted-curves', values, { field: 'steps' });
  }
  const all = [...responses, ...harmonics];
  for (const [field, code] of [
    ['device', 'mixed-devices'],
    ['setting', 'mixed-settings'],
  ] as const) {
    const other = all.find(({ about }) => about[field] !== first.about[field]);
    if (!other) continue;
    const [ofA, ofB] = [first, other].map(({ about }) => about[field] ?? null);
    const values = { of: 'distortion', a: first.label, b: other.label, ofA, ofB } as const;
    throw makeRefusal(code, values, { field: `about.${field}` });
  }
  // a harmonic is a ratio, whatever the scale of its response
  const scaled = responses.find(({ scale }) => scale !== first.scale);
  if (scaled) {
    const values = { a: first.label, b: scaled.label, ofA: first.scale, ofB: scaled.scale };
    throw makeRefusal('mixed-scales', values, { field: 'scale' });
  }
  const other = all.find((curve) => isCorrected(curve) !== isCorrected(first));
  if (!other) return;
  const differ = 'microphone correction';
  const values = { a: first.label, b: other.label, differ, to: 'measure distortion' } as const;
  throw makeRefusal('mixed-curves', values, { field: differ });
}
