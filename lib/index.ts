/** The public face of the library: everything here has a stable name, unit and shape. */

export { type BandFitOptions, fitBand } from './analysis/bandFit/fitBand';
export { applyCalibration } from './analysis/calibration/applyCalibration';
export { calibrateFromSensitivity } from './analysis/calibration/calibrateFromSensitivity';
export { calibrateFromTone, type ToneOptions } from './analysis/calibration/calibrateFromTone';
export type { Calibration } from './analysis/calibration/calibration';
export { levelAtDistance } from './analysis/calibration/levelAtDistance';
export { HALF_SPACE_GAIN_DB, toHalfSpace } from './analysis/calibration/toHalfSpace';
export type { CaptureFacts } from './analysis/capture/captureFacts';
export { compareNeighbours } from './analysis/capture/compareNeighbours';
export { compareTakes } from './analysis/capture/compareTakes';
export { type Clipping, findClipping } from './analysis/capture/findClipping';
export { findHum } from './analysis/capture/findHum';
export type { HumLine } from './analysis/capture/humLines';
export { judgeCapture } from './analysis/capture/judgeCapture';
export { judgeRepeats } from './analysis/capture/judgeRepeats';
export { conclude, withConclusions } from './analysis/conclusions/conclude';
export { type DeconvolveOptions, deconvolveCapture } from './analysis/deconvolution/deconvolveCapture';
export { type DistortionOptions, measureDistortion } from './analysis/distortion/measureDistortion';
export { type ExposureOptions, estimateExposure } from './analysis/exposure/estimateExposure';
export { buildLadder, type LadderOptions } from './analysis/ladder/buildLadder';
export { HARMONIC_LIMITS, type HarmonicLimit } from './analysis/maximumOutput/limits';
export { measureMaximumOutput } from './analysis/maximumOutput/measureMaximumOutput';
export type { MaximumOutputOptions } from './analysis/maximumOutput/options';
export { ladderOf } from './analysis/reference/ladderOf';
export { referenceCurves } from './analysis/reference/referenceCurves';
export { referencePair } from './analysis/reference/referencePair';
export { fitRollOff, type RollOffOptions } from './analysis/rollOff/fitRollOff';
export type { RoomFeatureOptions } from './analysis/roomFeatures/featureOptions';
export { findRoomFeatures } from './analysis/roomFeatures/findRoomFeatures';
export { type CompareOptions, compareSettings } from './analysis/settingDifference/compareSettings';
export { importText } from './import/importText';
export { isCalibratorName } from './import/isCalibratorName';
export { isCorrectionName } from './import/isCorrectionName';
export { isNoiseName } from './import/isNoiseName';
export { type NameReading, readFileName } from './import/readFileName';
export { readWav, type WavOptions } from './import/readWav';
export { suggestPattern } from './import/suggestPattern';
export type { TextOptions } from './import/textOptions';
export { writeText } from './import/writeText';
export * from './model/caveat';
export { checkFindings } from './model/checkFindings';
export { checkMeasurement } from './model/checkMeasurement';
export { type CsvValue, csvCell, csvRows } from './model/csv';
export * from './model/curve';
export * from './model/decibel';
export { BassloomError } from './model/errors';
export * from './model/findings';
export { type CurveParts, deriveCurve, makeCurve } from './model/makeCurve';
export * from './model/octaves';
export * from './model/step';
export { buildReport, type Report, type ReportInput } from './report/buildReport';
export type { ChartInput } from './report/picture/chartInput';
export type { ChartOptions } from './report/picture/chartOptions';
export type { Plot, SeenInput } from './report/picture/drawSeen';
export type { FormatOptions, FormattedReport, ReportFormat } from './report/reportInFormats';
export { summariseDistortion } from './report/summariseDistortion';
export { summariseMaximumOutput } from './report/summariseMaximumOutput';
export {
  SUMMARY_LENGTH,
  summariseBandFit,
  summariseLadder,
  summariseRollOff,
  summariseRoomFeatures,
  summariseSettingDifference,
} from './report/summary';
export type { CsvTable } from './report/tables/findingTables';
export { attachNoise } from './response/attachNoise';
export { attachNoiseRuns } from './response/attachNoiseRuns';
export { type AverageOptions, averageCurves } from './response/averageCurves';
export { bridge } from './response/bridge';
export { captureCaveats } from './response/captureCaveats';
export { captureWarnings } from './response/captureWarnings';
export { caveatsFor, TRUSTED_SNR_DB } from './response/caveatsFor';
export { correctMicrophone } from './response/correctMicrophone';
export { setAsideOdd, type WhySetAside } from './response/setAsideOdd';
export { smooth } from './response/smooth';
export { snrDb } from './response/snrDb';
export { thinForScreen } from './response/thinForScreen';
export { weightCurve } from './response/weightCurve';
export { type BandTruth, bandTruth } from './rig/bandTruth';
export { type Bench, measure, type Run, setUpBench } from './rig/bench';
export { type CompressionTruth, compressionTruth, type OnsetTruth, onsetTruth } from './rig/compressionTruth';
export { demoRig } from './rig/demoRig';
export { drawRig } from './rig/drawRig';
export { measureSession, type Session } from './rig/measureSession';
export type {
  Equaliser,
  GridSpec,
  HighPass,
  LimiterSpec,
  MicrophoneSpec,
  NoiseSpec,
  RigSpec,
  UnitSpec,
} from './rig/rigSpec';
export { type DipTruth, roomDipTruth } from './rig/roomDipTruth';
export { sessionFiles, type TextFile } from './rig/sessionFiles';
export { type SessionTruth, sessionTruth } from './rig/sessionTruth';
export { hingeBelow, type SettingTruth, settingDifferenceDb, settingTruth } from './rig/settingTruth';
export { demoSoundRig } from './rig/sound/demoSoundRig';
export { drawSoundRig } from './rig/sound/drawSoundRig';
export { playRig } from './rig/sound/playRig';
export { type SoundFacts, soundFacts } from './rig/sound/soundFacts';
export type {
  BandLimiterSpec,
  NonlinearitySpec,
  RecorderSpec,
  SoundLimiterSpec,
  SoundRigSpec,
} from './rig/sound/soundRigSpec';
export type { SoundTruth } from './rig/sound/soundTruth';
export type { ToneTruth } from './rig/sound/toneTruth';
export { type BoundaryCancellation, boundaryCancellations } from './room/boundaryCancellations';
export { modeCount } from './room/modeCount';
export { predictRoom } from './room/predictRoom';
export { predictTransfer, type Transfer } from './room/predictTransfer';
export type { Position, Room } from './room/room';
export { type Mode, roomModes } from './room/roomModes';
export { schroederFrequency } from './room/schroederFrequency';
export { speedOfSound } from './room/speedOfSound';
export { type Biquad, type BiquadKind, type BiquadSpec, biquad } from './signal/biquad';
export { type BurstSpec, burstSchedule, type ScheduledBurst } from './signal/burstSchedule';
export { exposureDose, permittedSeconds } from './signal/exposure';
export { groupDelay } from './signal/groupDelay';
export { isBursts } from './signal/isBursts';
export { makeBursts } from './signal/makeBursts';
export { makeMutedSweep, makeSweep, type SweepFileOptions } from './signal/makeSweep';
export { minimumPhase } from './signal/minimumPhase';
export { type BurstPlan, planBursts } from './signal/planBursts';
export { recogniseBursts } from './signal/recogniseBursts';
export { recogniseSweep } from './signal/recogniseSweep';
export { biquadResponse, runBiquads } from './signal/runBiquads';
export type { SweepSpec } from './signal/sweepPlan';
export { type Weighting, weightingDb } from './signal/weighting';
export { chooseChannel } from './wav/chooseChannel';
export { decodeWav, type Sound } from './wav/decodeWav';
export { makeRecording, type RecordingParts } from './wav/makeRecording';
export { splitChannels } from './wav/splitChannels';
export { type WriteWavOptions, writeWav } from './wav/writeWav';
export { describe } from './words/describe';
export { describeCause } from './words/describeCause';
export { deconvolve } from './work/deconvolve';
export { maximumOutput } from './work/maximumOutput';
export { playThroughRig } from './work/playThroughRig';
export { renderBursts } from './work/renderBursts';
export { renderChart } from './work/renderChart';
export { renderReport } from './work/renderReport';
export { renderSeen } from './work/renderSeen';
export { renderSweep } from './work/renderSweep';
export { closeWorkers } from './work/workers';
