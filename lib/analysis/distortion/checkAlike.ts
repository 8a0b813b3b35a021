import type { Curve } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import { stepsOf } from '../../model/step';
import { weightingOf } from '../../response/weightingOf';
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
  const refuse = (code: string, field: string, said: string, of: Curve[], what: (curve: Curve) => unknown): void => {
    const other = of.find((curve) => what(curve) !== what(first));
    if (!other) return;
    const [a, b] = [first, other].map((one) => `'${one.label}' (${what(one) ?? `no ${said}`})`);
    throw new BassloomError(code, `Distortion is of one ${said}: ${a} and ${b} differ. Give them one by one.`, {
      field,
    });
  };
  const weighted = responses.find((one) => weightingOf(one) !== undefined);
  if (weighted) {
    const what = `'${weighted.label}' is ${weightingOf(weighted)}-weighted; measure distortion from curves as they were measured.`;
    throw new BassloomError('weighted-curves', what, { field: 'steps' });
  }
  const all = [...responses, ...harmonics];
  refuse('mixed-devices', 'about.device', 'device', all, ({ about }) => about.device);
  refuse('mixed-settings', 'about.setting', 'setting', all, ({ about }) => about.setting);
  // a harmonic is a ratio, whatever the scale of its response
  refuse('mixed-scales', 'scale', 'scale', responses, ({ scale }) => scale);
  refuse('mixed-curves', 'microphone correction', 'microphone correction', all, ({ steps }) =>
    stepsOf({ steps }, 'microphone correction').length > 0 ? 'corrected' : 'not corrected',
  );
}
