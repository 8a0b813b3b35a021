import { modelRefusals } from '../../../model/refusals';
import type { Format } from '../../format';
import type { Phrases, Place } from '../../phrase';

type Broken =
  | { why: 'short-format' | 'short-extensible'; bytes: number; leastBytes: number }
  | { why: 'no-channel' | 'no-rate' | 'no-format' | 'no-data' };
type Unsupported =
  | { why: 'channels'; channels: number; mostChannels: number }
  | { why: 'bits'; encoding: 'pcm' | 'float'; bits: number }
  | { why: 'sub-format'; guid: string }
  | { why: 'tag'; tag: string; tagName: string | null }
  | { why: 'big-endian' };

const NOT_WAV = {
  empty: 'the file is empty. Give a WAV file.',
  opening: 'it does not begin as a WAV file does. Give a WAV file.',
};

function broken(values: Broken, say: Format): string {
  switch (values.why) {
    case 'short-format':
      return `the 'fmt ' chunk has ${say.count(values.bytes, 'byte')}, at least ${values.leastBytes} are needed`;
    case 'short-extensible':
      return `an extensible 'fmt ' chunk needs ${values.leastBytes} bytes, this one has ${values.bytes}`;
    case 'no-channel':
      return 'the header says 0 channels';
    case 'no-rate':
      return `the header says a sample rate of ${say.exact(0, 'Hz')}`;
    case 'no-format':
      return "there is no 'fmt ' chunk, so nothing says how the samples are written";
    case 'no-data':
      return "there is no 'data' chunk, so it holds no sound";
  }
}

function unsupported(values: Unsupported): string {
  switch (values.why) {
    case 'channels':
      return `${values.channels} channels; up to ${values.mostChannels} are read. Export fewer channels.`;
    case 'bits': {
      const isFloat = values.encoding === 'float';
      return `${isFloat ? 'float' : 'PCM'} of ${values.bits} bits; ${isFloat ? '32 and 64' : '1 to 32'} are read. Export it with 24 bits.`;
    }
    case 'sub-format':
      return `its sub-format (GUID bytes ${values.guid}) is neither PCM nor float. Export it as PCM.`;
    case 'tag':
      return `format tag ${values.tag}${values.tagName === null ? '' : ` (${values.tagName})`}; PCM (1) and float (3) are read. Export it as 24-bit PCM or float.`;
    case 'big-endian':
      return 'RIFX (big-endian) is not read. Export it as RIFF WAV.';
  }
}

/** Reading and writing WAV. */
export const wav = {
  'bad-source': ({ label, of = 'wav' }: { label: string; of?: 'wav' | 'text' }) =>
    of === 'text'
      ? `${label}: give text, or its bytes as a Buffer or Uint8Array.`
      : `${label}: give the bytes of a WAV file, as a Buffer or Uint8Array.`,
  'not-wav': ({ label, why }: { label: string; why: keyof typeof NOT_WAV }) => `${label}: ${NOT_WAV[why]}`,
  'wav-broken': (values: { label: string } & Broken, _where, say) =>
    `${values.label}: ${broken(values, say)}. Export or record it again.`,
  'wav-unsupported': (values: { label: string } & Unsupported) => `${values.label}: ${unsupported(values)}`,
  'wav-empty': ({ label }: { label: string | null }) =>
    label === null
      ? 'There is no sample to write; give at least one.'
      : `${label}: it holds no samples. Record it again.`,
  'wav-not-finite': ({ label, channel, atS }: { label: string; channel: number; atS: number }, _where, say) =>
    `${label}: channel ${channel} holds no number at ${say.exact(Number(atS.toPrecision(6)), 's')}. Export it as PCM.`,
  'too-large': (values: { bytes: number } | { label: string; mostMib: number }) =>
    'label' in values
      ? `${values.label}: more than ${values.mostMib} MiB; export fewer points, or fewer columns.`
      : `A WAV file of ${values.bytes} bytes cannot be written; the most is 4 GiB. Give a shorter sound or fewer channels.`,
  'over-full-scale': ({ channel, index, sample }: { channel: number; index: number; sample: number }, _where, say) =>
    `Sample ${index} of channel ${channel} is ${say.exact(sample)}, beyond full scale; lower the level or write float.`,
  'not-a-number': (
    values: { label: string | null; index: number } | { channel: number; index: number },
    where: Place,
  ) =>
    'label' in values
      ? modelRefusals['not-a-number'](values, where)
      : `Sample ${values.index} of channel ${values.channel} is not a finite number.`,
  'unequal-columns': (
    values: { label: string; length: number; wanted: number } | { channel: number; length: number; wanted: number },
    where: Place,
    say,
  ) =>
    'label' in values
      ? modelRefusals['unequal-columns'](values, where)
      : `Channels must be equally long: channel ${values.channel} has ${say.count(values.length, 'sample')}, channel 1 has ${values.wanted}.`,
} satisfies Phrases;
