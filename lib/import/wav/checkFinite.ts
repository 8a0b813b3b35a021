import { refuse } from '../refuse';
import type { WavLayout } from './layOutWav';

/**
 * Refuse float samples that are no numbers: one of them would spoil every figure taken from the recording.
 *
 * @throws BassloomError `wav-not-finite`.
 *
 * Only the two bytes with the exponent are looked at: all ones are an infinity or no number (IEEE 754).
 */
export function checkFinite(layout: WavLayout, called: string): void {
  if (layout.encoding !== 'float') return;
  const { view, start, bytesPerSample, channels } = layout;
  const exponent = bytesPerSample === 4 ? 0x7f80 : 0x7ff0;
  const samples = layout.frames * channels;
  for (let i = 0, at = start + bytesPerSample - 2; i < samples; i++, at += bytesPerSample) {
    if ((view.getUint16(at, true) & exponent) !== exponent) continue;
    const seconds = Math.floor(i / channels) / layout.sampleRateHz;
    refuse(
      'wav-not-finite',
      called,
      `channel ${(i % channels) + 1} holds no number at ${Number(seconds.toPrecision(6))} s. Export it as PCM.`,
    );
  }
}
