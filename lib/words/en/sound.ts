import type { ExposureSource, OutputAssumption } from '../../model/findings';
import type { Format } from '../format';
import type { Phrases } from '../phrase';

/** Distortion, maximum output, calibration, exposure. */
export const sound = {
  // ---- distortion
  'thd-orders-missing': ({ orders }: { orders: string }, _where, say) =>
    `Harmonics of order ${ordersIn(orders, say)} were not measured in all runs; THD leaves them out.`,
  'thd-orders-incomplete': (_values, { bandsHz = [] }, say) =>
    `Not all harmonics were measured at ${say.bands(bandsHz)}: THD there is at least what is given.`,
  'thd-band-not-reached': (_values, { bandsHz = [], driveDb }, say) =>
    `The sweep does not cover ${say.bands(bandsHz)}${drivesOf(driveDb, say)}: THD is not known there.`,
  'thd-noise-unknown': (_values, { bandsHz = [] }, say) =>
    `The noise in the harmonics is not known at ${say.bands(bandsHz)}: THD there is at most what is given, and not to be trusted.`,
  'thd-near-noise': ({ snrDb }: { snrDb: number }, { bandsHz = [], driveDb }, say) =>
    `THD is less than ${say.db(snrDb, 0)} above the noise at ${say.bands(bandsHz)}${drivesOf(driveDb, say)}, even at the highest drive: it is unknown there. Play louder, or measure in less noise.`,
  'thd-passed-from-start': ({ percent }: { percent: number }, { bandsHz = [] }, say) =>
    `At ${say.bands(bandsHz)} the quietest run that shows THD is above ${say.short(percent, 3)}${'\u00a0'}% already: drive and level given there are upper bounds. Start lower.`,
  'thd-outlier': ({ percent, expectedPercent }: { percent: number; expectedPercent: number }, place, say) =>
    `THD at ${say.bands(place.bandsHz ?? [])}${drivesOf(place.driveDb, say)} does not fit the runs around it (up to ${say.percent(percent)}, where about ${say.percent(expectedPercent)} is expected): most likely a disturbance. It was left out; repeat that run.`,
  'thd-run-left-out': ({ label, lacks }: { label: string; lacks: 'harmonics' | 'response' }) =>
    `${label} was left out: ${lacks === 'harmonics' ? 'it has no harmonics' : 'its response is missing'}.`,
  'thd-drives-unknown': () => 'The drive of some runs is not known; they were counted as driven at 0 dB.',
  'thd-places-differ': () => 'The runs were not all taken at the same position and distance.',
  'thd-repeats': ({ runs, driveDb }: { runs: number; driveDb: number }, _where, say) =>
    `${say.count(runs, 'run')} at ${say.db(driveDb)} were averaged (power) as repeats.`,
  'thd-not-measured': ({ label, lacks }: { label: string; lacks: 'harmonics' | 'response' }) =>
    `The distortion of ${label} and the other runs of that setting is not known: ${lacks === 'harmonics' ? 'they have no harmonics' : 'their responses are missing'}.`,

  // ---- maximum output
  'output-assumption': assumption,
  'output-at-microphone': ({ place }: { place: OutputAssumption['place'] }) =>
    `Levels are those at the microphone${
      place === 'room' ? ', and include the room' : ': it is not stated where the unit was measured'
    }. Levels at 1${'\u00a0'}m and 2${'\u00a0'}m need a measurement outdoors over hard ground, or in a free field.`,
  'output-distance-unknown': () =>
    'The distance of the microphone is not known, so levels are those at the microphone. State the distance.',
  'output-distances-differ': () =>
    'The captures were taken at different distances, which cannot be allowed for here: do not compare bursts of one with bursts of another.',
  'output-not-calibrated': () =>
    'Not calibrated: levels are relative to digital full scale. State the level of full scale.',
  'output-drives-unknown': () =>
    'Not all captures state the drive they were taken at; those count as 0 dB. State the drives.',
  'output-capture-left-out': ({ label }: { label: string }) =>
    `${label} was left out: the bursts were not found in it.`,
  'output-capture-too-short': ({ label }: { label: string }) =>
    `${label} is too short to hold the bursts; it was left out of the maximum output.`,
  'output-no-captures': () => 'Maximum output is not known: no capture of the bursts was given.',
  'output-bursts-missed': ({ label, bursts }: { label: string; bursts: number }, _where, say) =>
    `${label}: ${say.count(bursts, 'burst')} ${bursts === 1 ? 'lies' : 'lie'} outside the recording, so the drives of the others may be wrong by whole steps (their levels are right). Record from before the first burst to after the last.`,
  'output-clock': ({ label, ppm }: { label: string; ppm: number }, _where, say) =>
    `${label}: the clocks of player and recorder differ by ${say.number(ppm, 0)} parts per million; this was allowed for.`,
  'output-steps-strange': ({ factor }: { factor: number }, _where, say) =>
    `The bursts rise ${say.number(factor, 1)} times as fast as the schedule says: the drives are wrong, and so may be what stopped a burst. Give the stimulus that was played.`,
  'output-clipped': (_values, { bandsHz = [] }, say) =>
    `The capture clipped at ${say.bands(bandsHz)}: levels there are at least what is given. Lower the recording gain.`,
  'output-not-recorded': (_values, { bandsHz = [] }, say) => `No burst at ${say.bands(bandsHz)} was recorded.`,
  'output-correction-short': (_values, { bandsHz = [] }, say) =>
    `The microphone correction does not reach ${say.bands(bandsHz)}: its end value was used.`,
  'output-louder-passes': ({ failedDb, passedDb }: { failedDb: number; passedDb: number }, { bandsHz = [] }, say) =>
    `${say.bands(bandsHz)}: a louder burst (${say.short(passedDb)} dBFS) passes although one at ${say.short(failedDb)} dBFS fails; the loudest burst below the failure counts.`,
  'output-harmonic-in-noise': ({ orders }: { orders: string }, { bandsHz = [] }, say) =>
    `${say.bands(bandsHz)}: noise hides whether harmonic ${ordersIn(orders, say)} stays under its limit, so the level is not to be trusted. Record in less noise.`,
  'output-noise-unknown': (_values, { bandsHz = [] }, say) =>
    `${say.bands(bandsHz)}: the noise is not known, since there is no silence before the bursts; the level is not to be trusted. Leave half a second or more between bursts.`,
  'output-room-null': ({ db }: { db: number }, { bandsHz = [] }, say) =>
    `${say.bands(bandsHz)}: the room cancels the fundamental at the microphone, so harmonics look ${say.db(db, 0)} too high. Move the microphone or the unit.`,

  // ---- calibration
  'calibration-none': () =>
    'Levels are relative, not sound pressure levels: there was nothing to calibrate with. Send the recording of a calibrator first, or name its file.',
  'calibrated-by-tone': (
    { fullScaleDb, toneDbfs, toneHz }: { fullScaleDb: number; toneDbfs: number; toneHz: number },
    _where,
    say,
  ) =>
    `Calibration: a full-scale sine is ${say.db(fullScaleDb)}, from a tone of ${say.number(toneDbfs, 1)} dBFS at ${say.hz(toneHz)}.`,
  'calibrated-as-given': ({ fullScaleDb }: { fullScaleDb: number }, _where, say) =>
    `Calibration: a full-scale sine is ${say.db(fullScaleDb)}, as given.`,
  'calibrated-by-sensitivity': ({ fullScaleDb }: { fullScaleDb: number }, _where, say) =>
    `Calibration: a full-scale sine is ${say.db(fullScaleDb)}, from stated sensitivities.`,
  'calibration-from-figures': () =>
    'Calibration: levels are computed from stated figures of microphone and input, not measured with a calibrator: they are as wrong as those figures, commonly by 1 to 3 dB.',
  'calibration-unlikely': ({ fullScaleDb }: { fullScaleDb: number }, _where, say) =>
    `Calibration: full scale comes out at ${say.db(fullScaleDb, 0)} SPL, which is unlikely. Check that the sensitivity is in mV/Pa, full scale in V rms, and the gain in dB.`,
  'calibration-drift': ({ driftDb }: { driftDb: number }, _where, say) =>
    `Calibration: the level of the tone drifts by ${say.db(driftDb)}. Seat the microphone firmly, let the calibrator settle and record again.`,
  'calibration-brief': ({ seconds }: { seconds: number }, _where, say) =>
    `Calibration: the tone is steady for ${say.number(seconds, 1)} s only. Record ten seconds.`,
  'calibration-noisy': ({ snrDb }: { snrDb: number }, _where, say) =>
    `Calibration: the noise around the tone (third octave) is only ${say.db(snrDb, 0)} below it. Calibrate in a quieter place, or seat the microphone tightly.`,
  'calibration-impure': ({ percent }: { percent: number }, _where, say) =>
    `Calibration: the harmonics of the tone amount to ${say.percent(percent)}. Check the battery of the calibrator, and whether the input is overloaded.`,
  'calibration-other-tone': ({ frequencyHz }: { frequencyHz: number }, _where, say) =>
    `Calibration: there is a stronger tone at ${say.hz(frequencyHz)}. Check whether it is hum, and whether the stated frequency is that of the calibrator.`,
  'calibration-frequency-off': ({ percent }: { percent: number }, _where, say) =>
    `Calibration: the tone is ${say.number(Math.abs(percent), 1)}${'\u00a0'}% ${percent > 0 ? 'above' : 'below'} the stated frequency. Check the battery of the calibrator.`,
  'calibration-reference-unknown': ({ label }: { label: string }) =>
    `${label}: its levels were taken as relative to a full-scale sine, although nothing in it says so.`,

  // ---- exposure
  'exposure-source': exposureSource,
  'exposure-not-calibrated': () =>
    'The level at the ear is not known: no curve is in dB SPL. Calibrate, or read dB(A) and dB(C) from a sound level meter at the ear.',
  'exposure-unknown': () => 'The level at the ear is not known. Read dB(A) and dB(C) from a sound level meter there.',
  'exposure-over': () =>
    'Measuring takes longer than the permitted daily time: leave the room while it plays, or wear hearing protection.',
  'exposure-at-microphone': ({ lowHz, highHz }: { lowHz: number; highHz: number }, _where, say) =>
    `Read at the microphone, ${say.hzRange(lowHz, highHz)}: where the ear is nearer to the unit, or in a corner of the room, it is louder.`,
  'exposure-sweeps-only': () =>
    'From the sweeps alone: bursts and anything else that was played are not included, and may be louder.',
  'exposure-low-bass': () =>
    'Low bass can harm at levels that A-weighting hides: watch the C-weighted level too, and stop at pressure in the ears, ringing or dizziness.',
  'exposure-rules': () =>
    'The permitted time is the NIOSH 98-126 recommendation for steady sound over a whole day; follow local rules where they are stricter.',
} satisfies Phrases;

function assumption({ place, distancesM, calibrated }: AssumptionValues, _where: object, say: Format): string {
  const distances = distancesM === '' ? [] : distancesM.split(' ').map((one) => `${say.short(Number(one), 2)}\u00a0m`);
  const converted = place === 'free field' || place === 'half space';
  const where =
    place === 'half space'
      ? 'on the ground outdoors (half space), away from walls'
      : place === 'free field'
        ? 'in a free field'
        : '';
  const levels =
    converted && distances.length > 0
      ? `Measured ${where} at ${say.list(distances)}; levels were brought to 1\u00a0m and 2\u00a0m by inverse distance (${say.db(6.02, 2)} a doubling). The peak at 1\u00a0m less ${say.db(9.03, 2)} is the rms level at 2\u00a0m: ${say.db(3.01, 2)} from the peak of a sine to its rms, ${say.db(6.02, 2)} for the distance.`
      : `Peak levels at the microphone${distances.length > 0 ? ` (${say.list(distances)} from the unit)` : ''}, ${
          place === 'room'
            ? 'in a room, whose part they include'
            : converted
              ? where
              : 'with the room, if there was one'
        }; they are not brought to another distance.`;
  const scale = calibrated ? '' : ' Not calibrated: dB re a full-scale sine in the capture.';
  return `${levels}${scale} Bursts and limits follow published descriptions of the consumer subwoofer output standard CTA-2010; this is not a conformity test.`;
}

type AssumptionValues = { place: OutputAssumption['place']; distancesM: string; calibrated: boolean };

function exposureSource({ dba, dbc, run, runs }: SourceValues, _where: object, say: Format): string {
  const read =
    run === null
      ? ''
      : `from ${run}${runs > 1 ? `, the loudest of ${say.count(runs, 'sweep')}` : ''}, at the microphone`;
  if (dba === 'stated') return dbc === null ? 'as stated for the ear' : `A as stated for the ear; C ${read}`;
  return read === '' ? 'not known' : read;
}

type SourceValues = { dba: ExposureSource['dba']; dbc: ExposureSource['dbc']; run: string | null; runs: number };

/** ' in the runs at -3 and 0 dB', or nothing. */
function drivesOf(driveDb: number[] | undefined, say: Format): string {
  if (!driveDb || driveDb.length === 0) return '';
  const drives = driveDb.map((one) => say.short(one));
  return ` in the run${drives.length > 1 ? 's' : ''} at ${say.list(drives)}\u00a0dB`;
}

/** '2 3' as '2 and 3': values of a caveat are flat. */
function ordersIn(orders: string, say: Format): string {
  return say.list(orders.split(' '));
}
