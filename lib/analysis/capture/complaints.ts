import { nominalHz } from '../../model/octaves';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { CaptureFacts } from './captureFacts';
import { hz, list, share } from './words';

/** One thing that is wrong with a capture: what it makes of the verdict, and what to say. */
export interface Complaint {
  makes?: 'doubtful' | 'bad';
  says: string;
}

const MANY_CLIPPED = 500;
const NO_SIGNAL_DBFS = -90;
const LOW_DBFS = -40;
const CLOSE_DBFS = -1;
const STEADY_SNR_DB = 20;
/** Below, noise is expected: rooms rumble, and few units play there. */
const EXPECTED_TO_HZ = 15;
const CLOCK_PPM = { said: 5, doubtful: 200, bad: 1000 };
const TAKES_DB = { said: 0.3, doubtful: 1 };

/** Everything that is wrong with a capture, in no order of gravity: see `judgeCapture`. */
export function complaints(facts: CaptureFacts, scale?: 'spl' | 'relative'): Complaint[] {
  return [
    clipped(facts),
    range(facts),
    ...ends(facts),
    level(facts),
    poorBands(facts),
    weakBands(facts),
    takes(facts),
    hum(facts, scale),
    rates(facts),
    clock(facts),
  ].filter((complaint) => complaint !== null);
}

function clipped({ clippedSamples: count, clippedAtS: at }: CaptureFacts): Complaint | null {
  if (!(count > 0)) return null;
  const when = at === null ? '' : `, the first at ${at.toFixed(2)} s`;
  return {
    makes: count >= MANY_CLIPPED ? 'bad' : 'doubtful',
    says:
      `${count} ${count === 1 ? 'sample is' : 'samples are'} clipped${when}. Lower the input gain (preamplifier or ` +
      'interface) and record again: clipping adds harmonics that the unit did not make, and hides level it did make.',
  };
}

function ends({ truncatedAtHz: end, missedBelowHz: start }: CaptureFacts): Complaint[] {
  const found: Complaint[] = [];
  if (end !== null) {
    found.push({
      makes: 'doubtful',
      says: `The capture ends before the sweep does; it is valid up to ${hz(end)} only. Record until the silence after the sweep is over.`,
    });
  }
  if (start !== null) {
    found.push({
      makes: 'doubtful',
      says: `The capture starts after the sweep did; it is valid from ${hz(start)} only. Start recording before playback.`,
    });
  }
  return found;
}

function range({ truncatedAtHz: end, missedBelowHz: start, snrDb }: CaptureFacts): Complaint | null {
  const low = start ?? (end === null ? undefined : snrDb.frequencyHz[0]);
  const high = end ?? (start === null ? undefined : snrDb.frequencyHz.at(-1));
  if (low === undefined || high === undefined || high >= 2 * low) return null;
  return { makes: 'bad', says: 'Less than an octave of the sweep was caught. Record all of it, silences included.' };
}

function level({ peakDbfs: peak, clippedSamples }: CaptureFacts): Complaint | null {
  const at = `The largest sample is at ${peak.toFixed(1)} dBFS`;
  if (!(peak >= NO_SIGNAL_DBFS)) {
    return {
      makes: 'bad',
      says: 'Next to nothing was recorded. Check cable, input, phantom power of the microphone and channel.',
    };
  }
  if (peak < LOW_DBFS) {
    return {
      makes: 'doubtful',
      says: `${at}: too low. Raise the input gain until the loudest run peaks near -12 dBFS.`,
    };
  }
  if (peak > 0 && clippedSamples === 0) {
    return { says: `${at}, beyond full scale: only a float file holds that. Lower the input gain.` };
  }
  if (peak <= CLOSE_DBFS || clippedSamples > 0) return null;
  return { says: `${at}, close to clipping. Lower the input gain by 6 dB before anything is played louder.` };
}

function poorBands({ snrDb }: CaptureFacts): Complaint | null {
  const { bands, all } = bandsBelow(snrDb, Number.NEGATIVE_INFINITY, TRUSTED_SNR_DB);
  if (bands.length === 0) return null;
  const makes = bands.some((centre) => centre > EXPECTED_TO_HZ) ? 'doubtful' : undefined;
  const worst = 2 * bands.length >= all ? 'bad' : makes;
  return {
    ...(worst && { makes: worst }),
    says:
      `Signal less than ${TRUSTED_SNR_DB} dB above the noise at ${share(bands)}: not to be trusted there. Play louder ` +
      'if unit and ears allow, use a longer sweep (twice as long gives 3 dB), or make the room quieter.',
  };
}

function weakBands({ snrDb }: CaptureFacts): Complaint | null {
  const { bands } = bandsBelow(snrDb, TRUSTED_SNR_DB, STEADY_SNR_DB);
  if (bands.length === 0) return null;
  const says =
    `Signal less than ${STEADY_SNR_DB} dB above the noise at ${share(bands)}: levels there are uncertain by up to 3 dB ` +
    'and distortion cannot be told. A longer sweep or a quieter room helps.';
  return { says };
}

/** Nominal centres of the bands whose ratio lies in [from, to), and how many bands there are. */
function bandsBelow({ frequencyHz, db }: CaptureFacts['snrDb'], from: number, to: number) {
  const bands = frequencyHz.filter((_, i) => db[i] >= from && db[i] < to).map(nominalHz);
  return { bands, all: db.filter((value) => !Number.isNaN(value)).length };
}

function takes({ repeatability }: CaptureFacts): Complaint | null {
  if (!repeatability || !(repeatability.worstDb > TAKES_DB.said)) return null;
  const { take, worstDb, atHz } = repeatability;
  return {
    ...(worstDb > TAKES_DB.doubtful && { makes: 'doubtful' }),
    says:
      `It differs from ${take} by ${worstDb.toFixed(1)} dB at ${hz(nominalHz(atHz))}. Look for noise during a take, a ` +
      'moved microphone, an opened door, a changed gain or a unit that warmed up; then take both again.',
  };
}

function hum({ humHz }: CaptureFacts, scale?: 'spl' | 'relative'): Complaint | null {
  if (humHz.length === 0) return null;
  const unit = { spl: 'dB SPL', relative: 'dBFS' }[scale as 'spl'] ?? 'dB';
  const lines = humHz.map(({ frequencyHz, levelDb }) => `${frequencyHz.toFixed(1)} Hz (${levelDb.toFixed(1)} ${unit})`);
  return {
    says:
      `Mains hum at ${list(lines)}. Move cables and microphone away from mains and transformers, use balanced cables, ` +
      'run all devices from one outlet, or let qualified people part the ground loop with an audio isolating ' +
      'transformer. Never lift a safety earth.',
  };
}

function rates({ ratesHz }: CaptureFacts): Complaint | null {
  if (!ratesHz) return null;
  const { capture, stimulus } = ratesHz;
  return {
    says: `The capture has ${capture} samples a second, the stimulus ${stimulus}. Play and record at one rate, so that no converter in between can change the sound.`,
  };
}

function clock({ clockPpm: ppm, clockUncertaintyPpm: uncertainty }: CaptureFacts): Complaint | null {
  if (ppm === null) return null;
  const off = Math.abs(ppm);
  if (!(off > CLOCK_PPM.said && off > (uncertainty ?? 0))) return null;
  const surely = off - (uncertainty ?? 0);
  const makes = surely > CLOCK_PPM.bad ? 'bad' : surely > CLOCK_PPM.doubtful ? 'doubtful' : undefined;
  const known = uncertainty === null ? '' : ` (uncertain by ${uncertainty.toPrecision(2)})`;
  return {
    ...(makes && { makes }),
    says:
      `The recorder's clock ran ${off.toPrecision(3)} parts per million ${ppm > 0 ? 'faster' : 'slower'} than the ` +
      `player's${known}; phase and distortion are less certain. Play and record with one interface.`,
  };
}
