import type { Interval } from '../../model/curve';
import { checkInterval } from '../../response/intervals';
import type { Room } from '../../room/room';
import { makeRefusal } from '../../words/makeRefusal';

export interface RoomFeatureOptions {
  /** Predicts where the room should show something; with source and microphone best. */
  room?: Room;
  /** Frequencies that are known to be the room's, Hz. */
  listedHz?: number[];
  /**
   * How far apart features of different curves, or a feature and a listed frequency, may lie and still be the same, Hz.
   * Default: 2 Hz, but at least 0.04 and at most 0.1 octave.
   */
  toleranceHz?: number;
  /** Smallest topographic prominence, dB, default 3. */
  minProminenceDb?: number;
  /** Range that features must lie in, Hz, default 15 to 200. */
  rangeHz?: Interval;
}

export type CheckedOptions = RoomFeatureOptions &
  Required<Pick<RoomFeatureOptions, 'listedHz' | 'minProminenceDb' | 'rangeHz'>>;

/** Fill in defaults and refuse what makes no sense. */
export function checkOptions(options: RoomFeatureOptions): CheckedOptions {
  const checked = { ...options, listedHz: options.listedHz ?? [], minProminenceDb: options.minProminenceDb ?? 3 };
  const rangeHz = options.rangeHz ?? [15, 200];
  checkInterval(rangeHz, 'rangeHz');
  checkPositive(checked.minProminenceDb, 'minProminenceDb', 'db-above-0');
  if (options.toleranceHz !== undefined) checkPositive(options.toleranceHz, 'toleranceHz', 'hz-above-0');
  for (const hz of checked.listedHz) checkPositive(hz, 'listedHz', 'hz-above-0');
  return { ...checked, rangeHz };
}

/** Tolerance at a frequency, Hz. */
export function toleranceAt(hz: number, toleranceHz: number | undefined): number {
  return toleranceHz ?? Math.min(Math.max(2, hz * (2 ** 0.04 - 1)), hz * (2 ** 0.1 - 1));
}

function checkPositive(value: number, field: string, wanted: 'db-above-0' | 'hz-above-0'): void {
  if (Number.isFinite(value) && value > 0) return;
  throw makeRefusal('bad-option', { wanted, value }, { field });
}
