import { nominalHz } from '../../model/octaves';
import type { Format } from '../format';
import type { Phrases } from '../phrase';

/** Captures: what is wrong with a recording, and what follows from it. */
export const captures = {
  'capture-not-good': ({ label, verdict }: { label: string; verdict: 'bad' | 'doubtful'; recording: string }) =>
    `The recording of ${label} is ${verdict}; see capture quality.`,
  'captures-not-good': ({ bad, doubtful }: { bad: number; doubtful: number }, _where, say) => {
    const parts = [...(bad > 0 ? [`${bad} bad`] : []), ...(doubtful > 0 ? [`${doubtful} doubtful`] : [])];
    return `${say.count(bad + doubtful, 'recording')} used here ${bad + doubtful === 1 ? 'is' : 'are'} not good (${parts.join(', ')}); see capture quality.`;
  },

  'capture-clipped': ({ samples, atS }: { samples: number; atS: number | null }, _where, say) =>
    `${say.count(samples, 'sample')} clipped${atS === null ? '' : `, the first at ${say.number(atS, 2)} s`}. Lower ` +
    'the input gain and record again: clipping adds harmonics that the unit did not make, and hides level that it did.',
  'capture-overloaded': (
    { plateauDbfs, halfWaves, atS }: { plateauDbfs: number; halfWaves: number; atS: number },
    _where,
    say,
  ) =>
    `The tops are cut off at ${say.number(plateauDbfs, 1)} dBFS in ${say.count(halfWaves, 'half-wave')}, the first ` +
    `at ${say.number(atS, 2)} s: something ahead of the converter was overloaded. If it was the microphone or its ` +
    'preamplifier, move the microphone away or lower the gain and record again.',
  'capture-end-missing': ({ atHz }: { atHz: number }, _where, say) =>
    `The recording ends before the sweep does and is valid up to ${say.hz(atHz)} only. Record until the silence after the sweep is over.`,
  'capture-start-missing': ({ atHz }: { atHz: number }, _where, say) =>
    `The recording starts after the sweep began and is valid from ${say.hz(atHz)} only. Start recording before playback.`,
  'capture-under-octave': () => 'Less than an octave of the sweep was caught. Record all of it, silences included.',
  'capture-no-signal': () =>
    'Next to nothing was recorded. Check cable, input, channel and the phantom power of the microphone.',
  'capture-level-low': ({ peakDbfs }: { peakDbfs: number }, _where, say) =>
    `The largest sample is at ${say.number(peakDbfs, 1)} dBFS: too low. Raise the input gain until the loudest run peaks near ${say.number(-12, 0)} dBFS.`,
  'capture-level-beyond': ({ peakDbfs }: { peakDbfs: number }, _where, say) =>
    `The largest sample is at ${say.signed(peakDbfs, 1)} dBFS, beyond full scale: only a float file holds that. Lower the input gain.`,
  'capture-level-close': ({ peakDbfs }: { peakDbfs: number }, _where, say) =>
    `The largest sample is at ${say.number(peakDbfs, 1)} dBFS, close to clipping. Lower the input gain by 6 dB before anything is played louder.`,
  'capture-near-noise': ({ snrDb }: { snrDb: number }, where, say) =>
    `The signal is less than ${say.db(snrDb, 0)} above the noise at ${bands(where.bandsHz, say)}: do not trust levels there. ` +
    'Play louder if unit and ears allow, use a longer sweep (twice as long gains 3 dB), or make the room quieter.',
  'capture-some-noise': ({ snrDb }: { snrDb: number }, where, say) =>
    `The signal is less than ${say.db(snrDb, 0)} above the noise at ${bands(where.bandsHz, say)}: levels there are uncertain ` +
    'by up to 3 dB, and distortion cannot be measured. A longer sweep or a quieter room helps.',
  'take-differs': ({ take, byDb, atHz }: { take: string; byDb: number; atHz: number }, _where, say) =>
    `This take differs from ${take} by ${say.db(byDb)} at ${say.hz(nominalHz(atHz))}. Look for noise during a take, a moved ` +
    'microphone, an opened door, a changed gain or a unit that warmed up; then take both again.',
  'capture-unlike-neighbours': (
    { what, byDb, atHz }: { what: 'level' | 'noise' | 'distortion'; byDb: number; atHz: number; neighbours: string },
    _where,
    say,
  ) => {
    const at = say.hz(nominalHz(atHz));
    const found = {
      level: `its level at ${at} is ${say.db(byDb)} off what the runs next to it suggest`,
      noise: `its noise at ${at} is ${say.db(byDb)} above that of the runs next to it`,
      distortion: `its distortion at ${at} is ${say.db(byDb)} above that of the runs next to it, also of louder ones`,
    }[what];
    return `This run is unlike its neighbours: ${found}. Something else may have sounded or moved; take it again.`;
  },
  'capture-hum': (
    {
      mainsHz,
      lines,
      strongestHz,
      levelDb,
      unit,
    }: { mainsHz: number; lines: number; strongestHz: number; levelDb: number; unit: HumUnit },
    _where,
    say,
  ) => `${hum(mainsHz, lines, strongestHz, levelDb, unit, say)}. ${HUM_ADVICE}`,
  'capture-hum-stays': ({ lines }: { lines: number }, where, say) =>
    `${say.count(lines, 'hum line')} could not be removed: unsteady, or too little silence to measure it in. Do not trust levels at ` +
    `${say.hzList(where.rangesHz ?? [])}. Record two more seconds of silence, and find the cause of the hum.`,
  'capture-rates-differ': ({ captureHz, stimulusHz }: { captureHz: number; stimulusHz: number }) =>
    `The recording has ${captureHz} samples a second, the stimulus ${stimulusHz}. Play and record at one rate, so that no converter in between can change the sound.`,
  'capture-clock-off': ({ ppm, uncertaintyPpm }: { ppm: number; uncertaintyPpm: number | null }, _where, say) =>
    `The recorder's clock ran ${say.hertz(Math.abs(ppm))} parts per million ${ppm > 0 ? 'faster' : 'slower'} than the ` +
    `player's${uncertaintyPpm === null ? '' : ` (uncertain by ${say.hertz(uncertaintyPpm)})`}: phase and distortion ` +
    'are less certain. Play and record with one interface.',
  'capture-band-limited': ({ fromHz }: { fromHz: number }, _where, say) =>
    `There is nothing at all above ${say.number(fromHz / 1000, 1)} kHz: the sound went through a lossy coder or ` +
    'another sample rate. Record uncompressed: coders change what is quiet, harmonics above all.',
  'capture-coded': ({ fromHz }: { fromHz: number }, _where, say) =>
    `A lossy coder was at work: nothing is left above ${say.number(fromHz / 1000, 1)} kHz, and the noise below has holes. ` +
    'It can move levels by a decibel or more, and hides harmonics. Record uncompressed.',
  'capture-gaps': ({ gaps, atS, kind }: { gaps: number; atS: number; kind: 'silent' | 'held' }, _where, say) =>
    `${say.count(gaps, 'gap')} in the sound, the first at ${say.number(atS, 2)} s: samples ${kind === 'silent' ? 'are zero' : 'are stuck at one value'}. ` +
    'Close other programs, raise the buffer size of the audio interface, and record again.',
  'capture-jumps': ({ jumps, atS }: { jumps: number; atS: number }, _where, say) =>
    `The wave jumps in ${say.count(jumps, 'place')}, first at ${say.number(atS, 2)} s: samples were lost or repeated ` +
    'there. Close other programs, raise the buffer size of the audio interface, and record again.',
  'capture-several-sweeps': ({ usedS, otherS }: { usedS: number; otherS: number }, _where, say) =>
    `The recording holds the sweep more than once: the one that begins at ${say.number(usedS, 1)} s was used, another begins at ` +
    `${say.number(otherS, 1)} s. Cut the recording so that it holds one.`,
  'capture-gain-follows': ({ dropDb, riseDb }: { dropDb: number; riseDb: number }, _where, say) =>
    `Background noise is ${say.db(dropDb)} lower after the sweep than before it, then rises by ${say.db(riseDb)}: the ` +
    "recorder's gain seems to follow the level. Switch off automatic gain and noise suppression, and record again.",
  'capture-rate-unsure': ({ sweepS, leastS }: { sweepS: number; leastS: number }, _where, say) =>
    `Recording and stimulus state different sample rates, and a sweep of ${say.short(sweepS)} s is too short to show whether both are right; ` +
    `if one is not, all frequencies are wrong. Play and record at one rate, or sweep for ${leastS} s or longer.`,
  'capture-rate-mislabelled': ({ percent }: { percent: number }, _where, say) =>
    `The sweep in it runs ${say.percent(Math.abs(percent))} ${percent > 0 ? 'faster' : 'slower'} than the one given: ` +
    'the file states a wrong sample rate, or another sweep was played. All frequencies are wrong; correct the header, or give the sweep that was played.',

  'wav-several-data': ({ sounds }: { sounds: number }) =>
    `The file has ${sounds} 'data' chunks; only the first is read.`,
  'wav-length-open': ({ seconds }: { seconds: number }, _where, say) =>
    `The header leaves the length open; read to the end of the file, ${say.short(seconds, 3)} s.`,
  'wav-cut-short': (
    {
      promisedBytes,
      heldBytes,
      promisedS,
      heldS,
    }: {
      promisedBytes: number;
      heldBytes: number;
      promisedS: number;
      heldS: number;
    },
    _where,
    say,
  ) =>
    `The header promises ${promisedBytes} bytes of sound (${say.short(promisedS, 3)} s), the file holds ${heldBytes}; ` +
    `read as far as it goes, ${say.short(heldS, 3)} s.`,
  'wav-part-frame': ({ bytes }: { bytes: number }, _where, say) =>
    `The last ${say.count(bytes, 'byte')} do not fill a frame and were left out.`,
  'wav-frame-size': (
    {
      bits,
      bytesPerFrame,
      channels,
      bytesPerSample,
    }: {
      bits: number;
      bytesPerFrame: number;
      channels: number;
      bytesPerSample: number;
    },
    _where,
    say,
  ) =>
    `The header says ${bits} bits a sample, but ${bytesPerFrame} bytes for a frame of ${say.count(channels, 'channel')}; ` +
    `read as ${say.count(bytesPerSample, 'byte')} a sample.`,
} satisfies Phrases;

type HumUnit = 'spl' | 'relative' | 'unknown';

const HUM_ADVICE =
  'Move cables and microphone away from mains and transformers, use balanced cables, run all devices from one outlet, ' +
  'or let qualified people part the ground loop with an audio isolating transformer. Never lift a safety earth.';

function hum(mainsHz: number, lines: number, strongestHz: number, levelDb: number, unit: HumUnit, say: Format): string {
  const level = `${say.number(levelDb, 1)}\u00a0${{ spl: 'dB SPL', relative: 'dBFS', unknown: 'dB' }[unit]}`;
  const where = lines > 1 ? `, strongest of ${lines} lines of ${mainsHz}\u00a0Hz mains` : '';
  return `Mains hum: ${level} at ${say.number(strongestHz, 1)}\u00a0Hz${where}`;
}

/** Bands by their nominal centres: all of a few, first and last of many. */
function bands(centresHz: readonly number[] = [], say: Format): string {
  const nominal = centresHz.map(nominalHz);
  if (nominal.length <= 4) return say.hzList(nominal);
  return `${nominal.length} bands from ${say.hz(nominal[0])} to ${say.hz(nominal[nominal.length - 1])}`;
}
