import type { Caveat } from './caveat';
import type { CaptureQuality } from './findings/capture';
import type { Conclusions } from './findings/conclusions';
import type { Exposure } from './findings/exposure';
import type { Ladder } from './findings/ladder';
import type { BandFit, RollOff } from './findings/range';
import type { RoomFeature, RoomPrediction } from './findings/room';
import type { SettingDifference } from './findings/settingDifference';
import type { Distortion, MaximumOutput } from './findings/sound';

export * from './findings/capture';
export * from './findings/conclusions';
export * from './findings/exposure';
export * from './findings/ladder';
export * from './findings/qualified';
export * from './findings/range';
export * from './findings/room';
export * from './findings/settingDifference';
export * from './findings/sound';

/** Grows as a message passes analysis nodes: one key per analysis. */
export interface Findings {
  /** Of the shapes below; stands at the head of `findings.json`. */
  schemaVersion?: 2;
  bandFit?: BandFit[];
  rollOff?: RollOff[];
  ladder?: Ladder[];
  roomFeatures?: RoomFeature[];
  roomPrediction?: RoomPrediction;
  settingDifference?: SettingDifference[];
  distortion?: Distortion[];
  maximumOutput?: MaximumOutput[];
  captureQuality?: CaptureQuality[];
  exposure?: Exposure;
  /** What import, collection and correction guessed, dropped or repaired. */
  notes?: Caveat[];
  /** What all of it comes to. */
  conclusions?: Conclusions;
}
