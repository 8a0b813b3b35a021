import type { Qualified } from '../../model/findings';

/** What digital full scale is worth in sound pressure. It holds as long as no gain ahead of the converter is touched. */
export interface Calibration extends Qualified {
  /** Level of a sine whose peak is digital full scale, dB re 20 uPa. */
  fullScaleDb: number;
  from: 'tone' | 'sensitivity' | 'given';
  /** Frequency of the calibrator's tone as it was found, Hz. */
  toneHz?: number;
  /** Its level, dB re a full-scale sine. */
  toneDbfs?: number;
}
