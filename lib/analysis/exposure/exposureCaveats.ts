import type { RunLevels } from './runLevels';

/** What to beware of in a statement of exposure. */
export function exposureCaveats(known: {
  said: number | undefined;
  loudest: RunLevels | undefined;
  /** Number of curves that were given, whatever their scale. */
  curves: number;
  permitted: number | null;
  measuredSeconds: number | undefined;
}): string[] {
  const { said, loudest, curves, permitted, measuredSeconds } = known;
  const caveats: string[] = [];
  if (said === undefined && !loudest) {
    caveats.push(
      curves > 0
        ? 'The level at the ear is not known: no curve is in dB SPL. Calibrate, or read dBA and dBC from a sound level meter at the ear.'
        : 'The level at the ear is not known. Read dBA and dBC from a sound level meter there.',
    );
  }
  if (permitted !== null && measuredSeconds !== undefined && measuredSeconds > permitted) {
    caveats.push(
      'The measuring lasts longer than the permitted time of a day: leave the room while it plays, or wear hearing protection.',
    );
  }
  if (loudest && said === undefined) {
    const [low, high] = loudest.rangeHz.map((hz) => Number(hz.toPrecision(3)));
    caveats.push(
      `Read at the microphone from ${low} to ${high} Hz; where the ear is nearer to the unit, or in a corner of the room, it is louder there.`,
      'Counted from the sweeps alone: bursts, and whatever else was played, are not in it and may be louder.',
    );
  }
  caveats.push(
    'Low bass can harm at levels that A-weighting hides: watch the C-weighted level too, and stop at pressure in the ears, ringing or dizziness.',
    'The permitted time is the recommendation NIOSH 98-126 for steady sound and takes the whole day into account; follow local rules where they are stricter.',
  );
  return caveats;
}
