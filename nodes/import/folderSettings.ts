import { BassloomError } from '../../lib/model/errors';
import type { NamedRoom, Procedure } from '../configs';
import type { Message } from '../nodeRed';
import { FOLDER_FILE, folderSchema } from './folderSchema';

interface Content {
  title?: string;
  room?: NamedRoom;
  knownDipsHz?: number[];
  smoothing?: number;
  windowHeightDb?: number;
  procedure?: Procedure;
}

/**
 * Read the settings in a watched folder's `bassloom.json` as a message carries them to the nodes: `title`, `room`,
 * `listedHz` and `procedure`, which fill what dialogs leave blank.
 *
 * @throws BassloomError `bad-json`; `bad-setting` with the path of the field, such as `room.lengthM`.
 */
export function folderSettings(text: string): Message {
  const { z } = require('zod') as typeof import('zod');
  const result = folderSchema(z).safeParse(parse(text));
  if (!result.success) throw refusalOf(result.error.issues);
  const { title, room, knownDipsHz, smoothing, windowHeightDb, procedure } = result.data as Content;
  if (room) check(room);
  const { referenceLowHz: low, referenceHighHz: high } = procedure ?? {};
  if ((low === undefined) !== (high === undefined) || (low ?? 0) > (high ?? 0)) {
    throw bad('procedure.referenceLowHz', 'it needs referenceHighHz above it, or leave both out');
  }
  const widths = { ...(smoothing && { smoothing }), ...(windowHeightDb && { windowHeightDb }) };
  const measured = { ...procedure, ...widths };
  return {
    ...(title && { title }),
    ...(room && { room }),
    ...(knownDipsHz && { listedHz: knownDipsHz }),
    ...(Object.keys(measured).length > 0 && { procedure: measured }),
  };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (problem) {
    const what = `${FOLDER_FILE} is not JSON (${(problem as Error).message}). Look at the commas, quotes and brackets.`;
    throw new BassloomError('bad-json', what);
  }
}

interface Issue {
  code: string;
  path: PropertyKey[];
  message: string;
  keys?: string[];
}

/** All that is wrong at once, each with its field; the first is the error's own. */
function refusalOf(issues: Issue[]): BassloomError {
  const said = issues.map(({ code, path, message, keys }) => {
    const field = path.map(String).join('.');
    const at = (key: string) => [...path.map(String), key].join('.');
    if (code === 'unrecognized_keys' && keys)
      return { field: at(keys[0]), text: keys.map((key) => `there is no setting "${at(key)}"`).join('; ') };
    const isMissing = code === 'invalid_type' && message === 'a number is needed';
    return { field, text: `"${field || 'the whole'}": ${isMissing ? 'a number is needed there' : message}` };
  });
  const what = `${FOLDER_FILE}: ${said.map(({ text }) => text).join('; ')}. The settings it may hold are in docs/lab.md.`;
  return new BassloomError('bad-setting', what, { field: said[0].field });
}

function bad(field: string, why: string): BassloomError {
  return new BassloomError('bad-setting', `${FOLDER_FILE}: "${field}": ${why}.`, { field });
}

function check(room: NamedRoom): void {
  const { checkRoom } = require('../../lib/room/room') as typeof import('../../lib/room/room');
  try {
    checkRoom(room);
  } catch (problem) {
    if (!(problem instanceof BassloomError)) throw problem;
    const field = `room${problem.field ? `.${problem.field}` : ''}`;
    throw new BassloomError('bad-setting', `${FOLDER_FILE}: "${field}": ${problem.message}`, { field });
  }
}
