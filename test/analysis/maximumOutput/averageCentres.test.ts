import { describe, expect, it } from 'vitest';
import { averageCentres } from '../../../lib/analysis/maximumOutput/averageCentres';

const RMS_DB = -9.03;
const centre = (hz: number, peakAt1mDb: number | null, stoppedBy: 'distortion' | 'schedule' = 'distortion') => ({
  centreHz: 10 ** (Math.round(10 * Math.log10(hz)) / 10),
  levelAtMicrophoneDb: peakAt1mDb === null ? null : peakAt1mDb - 6,
  peakAt1mDb,
  stoppedBy,
});

describe('means over several centres', () => {
  it('are of pressures: the published example, 101.1, 107.3 and 116.3 dB, gives 110.4', () => {
    const [low, upper] = averageCentres([centre(20, 101.1), centre(25, 107.3), centre(31.5, 116.3)], RMS_DB);
    expect(low).toMatchObject({ name: 'low bass' });
    expect(low.peakAt1mDb).toBeCloseTo(110.4, 1);
    expect(low.rmsAt2mDb).toBeCloseTo(110.4 - 9.03, 1);
    expect(low.levelAtMicrophoneDb).toBeCloseTo(104.4, 1);
    expect(upper).toMatchObject({ name: 'upper bass', peakAt1mDb: null, rmsAt2mDb: null });
  });

  it('of equal levels are that level, and of a missing one are none', () => {
    const centres = [40, 50, 63].map((hz) => centre(hz, 100));
    expect(averageCentres(centres, RMS_DB)[1].peakAt1mDb).toBeCloseTo(100, 10);
    expect(averageCentres([...centres.slice(0, 2), centre(63, null)], RMS_DB)[1].peakAt1mDb).toBeNull();
  });

  it('are at least that where one centre was not stopped by a limit of the unit', () => {
    const of = (last: 'distortion' | 'schedule') => [centre(40, 100), centre(50, 101), centre(63, 102, last)];
    expect(averageCentres(of('distortion'), RMS_DB)[1].atLeast).toBe(false);
    expect(averageCentres(of('schedule'), RMS_DB)[1].atLeast).toBe(true);
  });
});
