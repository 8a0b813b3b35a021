import { type Caveat, type CaveatValue, inFile } from '../model/caveat';
import type { Recording } from '../model/curve';
import { checkFinite } from '../wav/checkFinite';
import { layOutWav } from '../wav/layOutWav';
import { recordingOf } from '../wav/makeRecording';
import { makeRefusal } from '../words/makeRefusal';
import { labelOf } from './filePath';
import { readFileName } from './readFileName';

/** What is known of a WAV file beside its bytes. */
export interface WavOptions {
  /** File name, with or without its path: gives the label, and is what `namePattern` reads. */
  name?: string;
  /** What the file name says, such as '{device}_{setting}_step-{step}'; see `readFileName`. */
  namePattern?: string;
  /** dB a {step} stands for, default 3. */
  stepDb?: number;
  /** What the sound is, default 'capture'. */
  role?: Recording['role'];
}

const ROLES: readonly unknown[] = ['capture', 'stimulus', 'impulse', 'programme'];

/**
 * Read a recording from the bytes of a WAV file.
 *
 * @param wav PCM of 1 to 32 bits or float of 32 or 64, plain or extensible, in RIFF, RF64 or BW64, up to 256
 * channels at any sample rate. The recording shares these bytes; nothing is copied.
 * @returns the recording with all its channels (`chooseChannel` and `splitChannels` part them), its `id` a hash of
 * the bytes, and a note for everything that was odd: a header that promises more than the file holds is read as far
 * as the file goes.
 * @throws BassloomError `not-wav`, `wav-unsupported` (naming the format), `wav-broken`, `wav-empty`,
 * `wav-not-finite`, `bad-source`, and for the options `bad-option`, `bad-pattern`.
 *
 * Other chunks (titles, marks, comments) are passed over. Time is linear in the size of the file.
 *
 * @example
 * const { recording, notes } = readWav(readFileSync('unit_flat_step-3.wav'), { name: 'unit_flat_step-3.wav' });
 */
export function readWav(wav: Uint8Array, options: WavOptions = {}): { recording: Recording; notes: Caveat[] } {
  const { name, namePattern, stepDb, role } = checked(options);
  const label = name === undefined ? 'recording' : labelOf(name);
  const layout = layOutWav(wav, label);
  checkFinite(layout, label);
  const said = name !== undefined && namePattern !== undefined ? readFileName(name, namePattern, stepDb) : undefined;
  const { encoding, bits } = layout;
  const recording = recordingOf(layout, {
    role: role ?? 'capture',
    label,
    about: said?.about ?? {},
    steps: [{ did: 'import', with: { ...(name !== undefined && { name: label }), encoding, bits } }],
  });
  return { recording, notes: inFile(label, [...layout.notes, ...(said?.notes ?? [])]) };
}

/** Blank options are options left out. */
function checked(options: WavOptions): WavOptions {
  const known = Object.fromEntries(Object.entries(options).filter(([, value]) => value !== '' && value != null));
  for (const field of ['name', 'namePattern']) {
    if (known[field] !== undefined && typeof known[field] !== 'string') bad(field, 'text', known[field]);
  }
  if (known.role !== undefined && !ROLES.includes(known.role)) bad('role', 'sound-role', known.role);
  return known;
}

function bad(field: string, wanted: 'text' | 'sound-role', value: unknown): never {
  throw makeRefusal('bad-option', { wanted, value: value as CaveatValue }, { field });
}
