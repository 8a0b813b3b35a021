import { makeRefusal } from '../words/makeRefusal';
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
  const bad = findExponent(view, start + bytesPerSample - 2, bytesPerSample, layout.frames * channels, exponent);
  if (bad < 0) return;
  const atS = Math.floor(bad / channels) / layout.sampleRateHz;
  throw makeRefusal('wav-not-finite', { label: called, channel: (bad % channels) + 1, atS });
}

function findExponent(view: DataView, at: number, stride: number, count: number, exponent: number): number {
  for (let i = 0; i < count; i++, at += stride) {
    if ((view.getUint16(at, true) & exponent) === exponent) return i;
  }
  return -1;
}
