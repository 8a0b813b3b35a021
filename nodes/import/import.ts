import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { TextOptions } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Procedure } from '../configs';
import { define, type Library, withCause } from '../define';
import { gatherNotes } from '../gatherNotes';
import type { Message, RedApi } from '../nodeRed';
import { fullPath } from '../paths';
import { fields, textOptions } from './fields';
import { checkSize, findFiles } from './findFiles';

interface Source {
  name?: string;
  read(): Promise<string | Uint8Array>;
}

export = define({
  type: 'bassloom-import',
  settings: fields,
  async run({ lib, RED, node, settings, message }) {
    const curves: Curve[] = [];
    const noted: { label: string; note: string }[] = [];
    const refused: { problem: unknown; name?: string }[] = [];
    const options = { ...textOptions(settings), role: settings.role };
    for (const { name, read } of await sourcesOf(RED, settings, message)) {
      try {
        const byName = settings.role ? {} : whatNameSays(lib, name);
        const { curve, notes } = lib.importText(await read(), { ...options, name, ...byName });
        curves.push(stamp(curve, settings.procedure));
        noted.push(...notes.map((note) => ({ label: curve.label, note })));
      } catch (problem) {
        refused.push({ problem, name });
      }
    }
    // Every bad file reaches Catch once: where nothing could be read, the last one by way of `done`.
    const last = curves.length === 0 ? refused.pop() : undefined;
    for (const { problem, name } of refused) node.error(withCause(problem), { ...message, filename: name });
    if (last) throw last.problem;
    const units = new Set(curves.filter(({ role }) => role === 'response').map(({ about }) => about.device));
    const [unit] = units;
    return {
      payload: lib.attachNoiseRuns(curves),
      findings: { notes: gatherNotes(noted) },
      set: {
        ...(units.size === 1 && unit && { topic: unit }),
        ...(settings.procedure && { procedure: settings.procedure }),
      },
      status: RED._(refused.length > 0 ? 'status.refused' : 'status.read', {
        count: curves.length,
        refused: refused.length,
      }),
      doubtful: refused.length > 0,
    };
  },
});

async function sourcesOf(
  RED: RedApi,
  settings: { source: string; files?: string },
  message: Message,
): Promise<Source[]> {
  if (settings.source === 'files') {
    if (!settings.files) {
      throw new BassloomError('bad-setting', 'Setting "files" is empty, and so is msg.files.', { field: 'files' });
    }
    const paths = await findFiles(fullPath(RED, settings.files));
    return paths.map((name) => ({ name, read: () => checkSize(name).then(() => readFile(name)) }));
  }
  const { payload, filename } = message;
  if (typeof payload !== 'string' && !(payload instanceof Uint8Array)) {
    throw new BassloomError(
      'not-text',
      'msg.payload is no text and no Buffer; read a file first, or read from files.',
      {
        field: 'payload',
      },
    );
  }
  return [{ name: typeof filename === 'string' ? filename : undefined, read: async () => payload }];
}

/** Noise runs and corrections are known by their names, which then say nothing else. */
function whatNameSays(lib: Library, path = ''): Pick<TextOptions, 'role' | 'namePattern'> {
  if (lib.isNoiseName(path)) return { role: 'noise', namePattern: undefined };
  const isCorrection = /^(mic|microphone)?[\s_-]*correction/i.test(basename(path));
  return isCorrection ? { role: 'correction', namePattern: undefined } : {};
}

/** Say in a curve how it was measured; what its file name says goes first. */
function stamp(curve: Curve, procedure: Procedure | undefined): Curve {
  if (!procedure) return curve;
  const { name, position, distanceM } = procedure;
  const fixed = Object.entries({ procedure: name, position, distanceM }).filter(([, value]) => value !== undefined);
  return { ...curve, about: { ...Object.fromEntries(fixed), ...curve.about } };
}
