import type { Format } from '../format';
import { type Listed, numbered } from '../numbered';
import type { Phrases } from '../phrase';
import { type BurstPlace, burstPlace, driveRange, levelUnit, pastDips, regionsIn, who, withName } from './verdictParts';

interface Named {
  name: string;
}

/** What a verdict says beyond its headlines. */
export const verdict = {
  // ---- range
  'range-dips-counted': ({ name, lowHz, highHz, heightDb }: Named & Range & { heightDb: number }, _where, say) =>
    `With the room's dips counted, only ${say.hzRange(lowHz, highHz)} stays within ${say.db(heightDb, heightDb % 1 === 0 ? 0 : 1)}${withName(name)}.`,
  'range-runner-up': ({ name, lowHz, highHz, octaves }: Named & Range & { octaves: number }, _where, say) =>
    `Nearly as wide: ${say.hzRange(lowHz, highHz)}, ${say.number(octaves, 2)} octaves${withName(name)}.`,
  'range-needs': ({ name, lowHz, highHz, heightDb }: Named & Range & { heightDb: number }, _where, say) =>
    `To hold ${say.hzRange(lowHz, highHz)}${withName(name)} takes a window of ${say.db(heightDb)}.`,
  'depth-further': (values: Listed & Named & { referenceDb: number }, _where, say) => {
    const edges = numbered<number>(values, 'lowHz');
    const each = numbered<number>(values, 'downDb').map(
      (db, k) => `${say.short(db)}\u00a0dB down at ${say.hz(edges[k])}`,
    );
    return `${who(values.name)} is ${say.list(each)}, counted from ${say.db(values.referenceDb)}${pastDips(values, say)}.`;
  },
  'depth-not-reached': ({ name, downDb }: Named & { downDb: number }, _where, say) =>
    `How deep it reaches${withName(name)} was not measured: the curve ends before it falls by ${say.short(downDb)}\u00a0dB.`,
  'roll-off': ({ name, slopeDbPerOctave, order, f0Hz, q, alignment }: Named & RollOff, _where, say) =>
    `${who(name)} falls by ${say.short(slopeDbPerOctave)}\u00a0dB per octave, like a ${say.ordinal(order)}-order high-pass at ${say.hz(f0Hz)}${
      q === null ? '' : ` with Q\u00a0${say.number(q, 2)}`
    }${alignment === '' ? '' : ` (${alignment})`}.`,
  'roll-off-slope': (
    {
      name,
      slopeDbPerOctave,
      lowHz,
      highHz,
    }: Named & { slopeDbPerOctave: number; lowHz: number | null; highHz: number | null },
    _where,
    say,
  ) =>
    `${who(name)} falls by about ${say.short(slopeDbPerOctave, 0)}\u00a0dB per octave${
      lowHz === null || highHz === null ? ' at the bottom' : ` over ${say.hzRange(lowHz, highHz)}`
    }; it follows no high-pass closely enough to name a corner.`,

  // ---- switch
  'switch-values': (
    values: Listed & { a: string; b: string; slopeDbPerOctave: number | null; asymptoteDb: number | null },
    _where,
    say,
  ) => {
    const [hz, byDb] = [numbered<number>(values, 'hz'), numbered<number>(values, 'byDb')];
    const each = hz.map((one, k) => `${say.dbChange(byDb[k])} at ${say.hz(one)}`);
    const { slopeDbPerOctave, asymptoteDb } = values;
    const slope =
      slopeDbPerOctave === null
        ? ''
        : `, changing by ${say.number(slopeDbPerOctave, 1)}\u00a0dB per octave below the hinge`;
    const full = asymptoteDb === null ? '' : `, towards ${say.dbChange(asymptoteDb)}`;
    return `‘${values.a}’ re ‘${values.b}’: ${say.list(each)}${slope}${full}.`;
  },

  // ---- limits
  'limit-regions': (values: Listed & Named & { relative: boolean }, _where, say) => {
    const [ceilings, sharp] = [numbered<number>(values, 'ceilingDb'), numbered<boolean>(values, 'sharp')];
    const each = regionsIn(values).map(
      (one, k) =>
        `${say.hzRange(one.lowHz, one.highHz)} ${sharp[k] ? 'is held sharply, as by a limiter,' : 'gives way gradually'} from ${driveRange(one.fromDriveDb, one.toDriveDb, say)} of drive, near ${say.number(ceilings[k], 1)}\u00a0${levelUnit(values.relative)}`,
    );
    return `${values.name ? `‘${values.name}’: ` : ''}${each.join('; ')}.`;
  },
  'others-follow': ({ name, following, others }: Named & { following: number; others: number }, _where, say) =>
    following === others
      ? `The other ${say.count(others, 'band')} ${others === 1 ? 'follows' : 'follow'} the drive to the last run${withName(name)}.`
      : `Of the other ${say.count(others, 'band')}, ${following} can be trusted, and ${following === 1 ? 'follows' : 'follow'} the drive to the last run${withName(name)}.`,
  'others-lose': ({ name, losing, byDb }: Named & { losing: number; byDb: number }, _where, say) =>
    `Elsewhere, ${say.count(losing, 'band')} ${losing === 1 ? 'loses' : 'lose'} up to ${say.db(byDb)} at the loudest run${withName(name)}.`,
  'others-unknown': ({ name }: Named) => `Whether the other bands follow the drive${withName(name)} cannot be told.`,
  'first-loss': (values: Listed & Named, _where, say) => {
    const [hz, drives] = [numbered<number>(values, 'hz'), numbered<number>(values, 'driveDb')];
    const each = numbered<number>(values, 'lossDb').map(
      (db, k) => `${say.short(db)}\u00a0dB at ${say.hz(hz[k])} (${say.drive(drives[k])})`,
    );
    return `First losses${withName(values.name)}: ${say.list(each)}.`;
  },
  'no-loss': ({ name, lossDb, driveDb }: Named & { lossDb: number; driveDb: number }, _where, say) =>
    `No trusted band loses ${say.short(lossDb)}\u00a0dB${withName(name)} up to ${say.drive(driveDb)} of drive.`,

  // ---- distortion
  'thd-passes': (values: Listed & Named & { relative: boolean }, _where, say) => {
    const [hz, levels, drives] = ['hz', 'levelDb', 'driveDb'].map((key) => numbered<number | null>(values, key));
    const atMost = numbered<boolean>(values, 'atMost');
    const each = numbered<number>(values, 'percent').map((percent, k) => {
      const level = levels[k] === null ? '' : `${say.number(levels[k], 1)}\u00a0${levelUnit(values.relative)}`;
      const drive = `${say.drive(drives[k] as number)} of drive`;
      return `${say.short(percent, 2)}\u00a0% first at ${say.hz(hz[k] as number)}, at ${[level, drive].filter(Boolean).join(' and ')}${atMost[k] ? ' or less' : ''}`;
    });
    return `THD${withName(values.name)} passes ${say.list(each)}.`;
  },
  'thd-highest': (
    {
      name,
      driveDb,
      hz,
      percent,
      order,
    }: Named & { driveDb: number; hz: number; percent: number; order: number | null },
    _where,
    say,
  ) =>
    `At ${say.drive(driveDb)} of drive THD${withName(name)} is highest at ${say.hz(hz)}: ${say.percent(percent)}${
      order === null ? '' : `, mostly ${say.ordinal(order)} harmonic`
    }.`,
  'thd-unknown': ({ name }: Named) =>
    `THD${withName(name)} cannot be told: the harmonics do not stand clear of the noise.`,
  'thd-nowhere-clean': ({ name, percent }: Named & { percent: number }, _where, say) =>
    `THD${withName(name)} is above ${say.short(percent, 2)}\u00a0% wherever it is known.`,

  // ---- maximum output
  'burst-levels': (values: Listed & Named & BurstPlace & { relative: boolean }, _where, say) => {
    const [hz, atLeast] = [numbered<number>(values, 'hz'), numbered<boolean>(values, 'atLeast')];
    const unit = levelUnit(values.relative);
    const each = numbered<number>(values, 'levelDb').map(
      (db, k) => `${atLeast[k] ? 'at least ' : ''}${say.number(db, 1)} at ${say.hz(hz[k])}`,
    );
    return `Bursts${withName(values.name)}, peak in ${unit}: ${say.list(each)}, ${burstPlace(values, say)}.`;
  },
  'burst-stops': (values: Listed & Named & { centres: number }, _where, say) => {
    const counts = numbered<number>(values, 'count');
    const each = numbered<keyof typeof STOPPED>(values, 'stop').map((stop, k) => `${STOPPED[stop]} at ${counts[k]}`);
    return `What stopped bursts${withName(values.name)}: ${say.list(each)} of ${say.count(values.centres, 'centre')}.`;
  },
  'bursts-none': ({ name }: Named) => `No burst${withName(name)} stayed within the limits for maximum output.`,

  // ---- shape
  'shape-unknown': ({ name }: Named) =>
    `Whether the response${withName(name)} keeps its shape as it gets louder cannot be told.`,

  // ---- room
  'room-features': (values: Listed, _where, say) => `Also the room's: ${features(values, say)}.`,
  'unit-features': (values: Listed, _where, say) => `The unit's own: ${features(values, say)}.`,
  'features-unexplained': (values: Listed, _where, say) => `Of unknown origin, room or unit: ${features(values, say)}.`,

  // ---- trust
  'steps-as-commanded': ({ name, measuredDb, uncertaintyDb, commandedDb }: Named & Step, _where, say) =>
    `Drive steps${withName(name)} arrive as commanded: ${say.number(measuredDb, 2)} ± ${say.db(uncertaintyDb, 2)} for ${say.short(commandedDb, 2)}\u00a0dB.`,
  'steps-differ': (
    { name, measuredDb, uncertaintyDb, commandedDb, used }: Named & Step & { used: 'commanded' | 'measured' },
    _where,
    say,
  ) =>
    `Drive steps${withName(name)} measure ${say.number(measuredDb, 2)} ± ${say.db(uncertaintyDb, 2)} instead of ${say.short(commandedDb, 2)}\u00a0dB; compression is counted with the ${used} step.`,
  'levels-trusted': (
    { name, trusted, of, snrFrom }: Named & { trusted: number; of: number; snrFrom: keyof typeof NOISE },
    _where,
  ) => `${trusted} of ${of} band levels${withName(name)} can be trusted; ${NOISE[snrFrom]}.`,
  'captures-counted': (values: Listed & { good: number; judged: number; more: number }, _where, say) => {
    const names = numbered<string>(values, 'doubtful').map((name) => `‘${name}’`);
    const care =
      names.length === 0
        ? ''
        : `; take with care: ${say.list([...names, ...(values.more > 0 ? [`${values.more} more`] : [])])}`;
    return `${values.good} of ${say.count(values.judged, 'capture')} ${values.judged === 1 ? 'is' : 'are'} good${care}.`;
  },
  'captures-bad-named': (values: Listed & { more: number }, _where, say) => {
    const names = numbered<string>(values, 'bad').map((name) => `‘${name}’`);
    return `Bad: ${say.list([...names, ...(values.more > 0 ? [`${values.more} more`] : [])])}. Record again.`;
  },

  // ---- ears
  ears: ({ levelDba, permittedSeconds, source }: Ears, _where, say) =>
    `${say.number(levelDba, 1)}\u00a0dB(A) at the ear: ${
      permittedSeconds > 86_400
        ? 'the whole day'
        : `${permittedSeconds > 0 ? say.duration(permittedSeconds) : 'no time'} a day`
    } is permitted by ${source}.`,
  'ears-over': ({ measuredSeconds }: { measuredSeconds: number }, _where, say) =>
    `Measuring took longer than is permitted: ${say.duration(measuredSeconds)}.`,
} satisfies Phrases;

interface Range {
  lowHz: number;
  highHz: number;
}

interface RollOff {
  slopeDbPerOctave: number;
  order: number;
  f0Hz: number;
  q: number | null;
  /** Empty where it has no name. */
  alignment: string;
}

interface Step {
  measuredDb: number;
  uncertaintyDb: number;
  commandedDb: number;
}

interface Ears {
  levelDba: number;
  permittedSeconds: number;
  source: string;
}

const STOPPED = {
  distortion: 'distortion',
  compression: 'compression',
  schedule: 'the end of the schedule',
  noise: 'noise',
  clipping: 'clipping of the capture',
};

const NOISE = {
  'noise run': 'the noise was measured in a run of its own',
  'noise in the file': 'the noise came with the curves',
  'scatter between rungs': 'the noise was not measured, but estimated from the scatter between runs',
  unknown: 'the noise is not known',
};

/** 'dips at 34.1 and 52.3 Hz and a peak at 44 Hz' */
function features(values: Listed, say: Format): string {
  const named = (kind: string): string[] => {
    const list = numbered<number>(values, kind).map((hz) => say.hertz(hz));
    if (list.length === 0) return [];
    return [`${list.length === 1 ? `a ${kind}` : `${kind}s`} at ${say.list(list)}\u00a0Hz`];
  };
  return say.list([...named('dip'), ...named('peak')]);
}
