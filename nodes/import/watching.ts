import { basename } from 'node:path';
import type { Caveat, Refused } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import { type Library, type Own, withCause } from '../define';
import { explainFileProblem } from '../fileProblem';
import type { Message } from '../nodeRed';
import { pathToRead } from '../paths';
import type { fields } from './fields';
import { FOLDER_FILE } from './folderSchema';
import { folderSettings } from './folderSettings';
import { hintAtPattern } from './hintAtPattern';
import type { ListedFile } from './listFolder';
import { looksLikeWav } from './looksLikeWav';
import { notRegular } from './openRegular';
import { makePace, type Pace } from './pace';
import { readSource } from './readSource';
import { readWithin } from './readWithin';
import { leftOut } from './sources';
import { type Change, watchFolder } from './watchFolder';
import { isStimulusName, patternBelow, unitIn, unitOfNoise } from './whatIsKnown';

/** Which file a measurement of a message was read from. */
export interface Source {
  id: string;
  label: string;
  file: string;
  mtimeMs: number;
  /** What its name says that it is, where that is no run. */
  is?: 'noise' | 'calibrator';
}

/** What the node does besides its messages. */
export interface Watching {
  pace: Pace;
  look(): void;
}

/** One lot: that much sound (it is taken apart at once), or that many texts. */
const LOT_BYTES = 48 * 2 ** 20;
const LOT_FILES = 100;
/** Of more files than that, progress is told. */
const MANY = 200;

interface Lot {
  payload: Measurement[];
  notes: Caveat[];
  sources: Source[];
  bytes: number;
  isSound: boolean;
}

/** Watch the folder of a node that is set to: files that come are handed on in lots, what has gone is told. */
export function openWatching({ node, RED, settings: own, settle }: Own<typeof fields>): Watching {
  const pace = makePace();
  if (own.source !== 'watch') return { pace, look() {} };
  if (!own.files) throw new BassloomError('bad-setting', 'Setting "files" is empty.', { field: 'files' });
  const folder = pathToRead(RED, own.files);
  /** As the folder's own file has them, once it was read. */
  let settings = own;
  let fromFile: Message = {};
  let isFileBroken = false;
  let isHinted = false;
  let lots = 0;
  let isClosed = false;

  const handOn = async ({ payload, notes, sources }: Lot, lib: Library): Promise<void> => {
    const unit = onlyUnit(lib, payload);
    const lot = ++lots;
    const through = own.paced ? pace.through(lot) : undefined;
    const of = { ...(unit && { topic: unit }), ...(settings.procedure && { procedure: settings.procedure }) };
    node.send({ ...fromFile, ...of, payload, findings: { notes }, sources, lot });
    await through;
  };

  /** Take the settings of the folder's own file; those from before stay where it is broken. */
  const readFolderFile = async (file: ListedFile | undefined): Promise<void> => {
    const isFirst = Object.keys(fromFile).length === 0;
    try {
      const text = file && (await readWithin(file.path, own, { within: folder })).toString('utf8');
      const found = text === undefined ? {} : folderSettings(text);
      settings = settle(found);
      fromFile = found;
      isFileBroken = false;
      const names = Object.keys(found).map((name) => (name === 'listedHz' ? 'knownDipsHz' : name));
      node.log?.(
        `${FOLDER_FILE}: ${file ? `${names.join(', ') || 'nothing'} set` : 'gone; the flow’s own settings hold'}`,
      );
    } catch (thrown) {
      isFileBroken = true;
      const problem = explainFileProblem(thrown) as BassloomError;
      const meanwhile = isFirst
        ? 'Until it is mended, it is left out of account'
        : 'Until it is mended, its last good version holds';
      const told = new BassloomError(problem.code, `${problem.message} ${meanwhile}.`, problem);
      node.error(withCause(told), { filename: FOLDER_FILE });
    }
  };

  const onChange = async ({ ready: changed, gone: lost, odd }: Change): Promise<void> => {
    const lib = require('../../lib') as Library;
    const [ready, gone] = [
      changed.filter(({ name }) => name !== FOLDER_FILE),
      lost.filter((name) => name !== FOLDER_FILE),
    ];
    const folderFile = changed.find(({ name }) => name === FOLDER_FILE);
    if (folderFile || lost.length > gone.length) await readFolderFile(folderFile);
    if (gone.length > 0) node.send({ inbox: { gone, refused: [] } });
    const refused: { file: string; unit?: string; because: Refused }[] = [];
    const settingsFor = (name: string) => ({ ...settings, namePattern: patternBelow(lib, name, settings) ?? '' });
    const misnamed: string[] = [];
    const refuse = (name: string, thrown: unknown): void => {
      const problem = explainFileProblem(thrown);
      if ((problem as BassloomError).code === 'name-mismatch') misnamed.push(name);
      if ((problem as BassloomError).code === 'no-such-file') return; // gone again: the next look tells
      const unit = unitIn(lib, name, settingsFor(name));
      const { code = 'failed', values, field, line, message } = problem as BassloomError;
      refused.push({ file: name, unit, because: { code, values, field, line, message } });
      node.error(withCause(problem), { filename: name, ...(unit && { topic: unit }) });
    };
    for (const { name, what } of odd) refuse(name, notRegular(name, what));
    let lot: Lot | undefined;
    const flush = async () => {
      if (lot && lot.payload.length > 0) await handOn(lot, lib);
      lot = undefined;
    };
    const isFirst = ({ name }: ListedFile) => isForAll(lib, name);
    const inOrder = [...ready.filter(isFirst), ...ready.filter((file) => !isFirst(file))];
    for (const [i, file] of inOrder.entries()) {
      if (isClosed) return;
      try {
        if (basename(file.name) === FOLDER_FILE) throw misplaced(file.name);
        const content = await readWithin(file.path, settings, { within: folder });
        const read = readSource(lib, content, file.name, settingsFor(file.name));
        const { notes } = read;
        const is = whatItIs(lib, file.name, own.role);
        // speaks for its unit only
        const unit = is === 'noise' ? unitOfNoise(lib, file.name, settings.namePattern) : undefined;
        const measurements = read.measurements.map((one) => withUnit(one, unit));
        const isSound = looksLikeWav(content, file.name);
        const isTwice = lot?.sources.some(({ label }) => measurements.some((one) => one.label === label));
        const isFull = lot && (lot.bytes + content.length > LOT_BYTES || lot.sources.length >= LOT_FILES);
        if (lot && (isFull || isTwice || lot.isSound !== isSound)) await flush();
        lot ??= { payload: [], notes: [], sources: [], bytes: 0, isSound };
        lot.payload.push(...measurements);
        lot.notes.push(...notes);
        lot.bytes += content.length;
        const { mtimeMs } = file;
        lot.sources.push(...measurements.map(({ id, label }) => ({ id, label, file: file.name, mtimeMs, is })));
      } catch (problem) {
        refuse(file.name, problem);
      }
      const count = i + 1;
      node.status({ fill: 'blue', shape: 'ring', text: RED._('status.reading', { count, of: inOrder.length }) });
      if (inOrder.length > MANY && count % MANY === 0) node.log?.(`${count} of ${inOrder.length} files read`);
    }
    await flush();
    if (misnamed.length > 0 && !isHinted) {
      isHinted = true;
      node.error(withCause(hintAtPattern(lib, misnamed, settings)), {});
    }
    if (refused.length > 0) node.send({ inbox: { gone: [], refused } });
    if (isFileBroken) return node.status({ fill: 'yellow', shape: 'ring', text: RED._('status.folderFile') });
    node.status({
      fill: refused.length > 0 ? 'yellow' : 'green',
      shape: 'dot',
      text: RED._(refused.length > 0 ? 'status.refused' : 'status.read', {
        count: ready.length - refused.length + odd.length,
        refused: refused.length,
      }),
    });
  };

  const lib = () => require('../../lib') as Library;
  const watching = watchFolder({
    folder,
    settleS: own.settleS,
    isOut: leftOut(RED, own.leaveOut),
    isOfMany: (name) => name === FOLDER_FILE || isForAll(lib(), name),
    concerns: (changed, other) => changed === FOLDER_FILE || looksLikeWav('', other),
    onChange,
    onState(problem) {
      if (problem === undefined) return node.log?.(`${folder} is there again, and watched`);
      const what = `The watched folder ${folder} cannot be read; it is looked for until it is there again.`;
      node.status({ fill: 'red', shape: 'ring', text: RED._('status.gone') });
      node.error(withCause(new BassloomError('no-such-folder', what, { field: 'files' })), {});
    },
  });
  node.on('close', (_removed, done) => {
    isClosed = true;
    watching.close();
    pace.release(true);
    done();
  });
  return { pace, look: watching.look };
}

function whatItIs(lib: Library, name: string, role: string | undefined): Source['is'] {
  if (role === 'noise' || (role === undefined && lib.isNoiseName(name))) return 'noise';
  return lib.isCalibratorName(name) ? 'calibrator' : undefined;
}

function withUnit<M extends Measurement>(one: M, device: string | undefined): M {
  return device === undefined ? one : { ...one, about: { ...one.about, device } };
}

/** Sounds that change what others say: what was played, the noise, the calibrator. */
function isForAll(lib: Library, name: string): boolean {
  return looksLikeWav('', name) && (lib.isNoiseName(name) || lib.isCalibratorName(name) || isStimulusName(name));
}

/** The unit that all runs are of. */
export function onlyUnit(lib: Library, measurements: Measurement[]): string | undefined {
  const isSpecial = (label: string) => lib.isNoiseName(label) || lib.isCalibratorName(label);
  const isRun = ({ role, label }: Measurement) => role === 'response' || (role === 'capture' && !isSpecial(label));
  const units = new Set(measurements.filter(isRun).map(({ about }) => about.device));
  return units.size === 1 ? [...units][0] : undefined;
}

function misplaced(name: string): BassloomError {
  const text = `${name}: settings are read from ${FOLDER_FILE} in the watched folder itself only; move it there.`;
  return new BassloomError('settings-misplaced', text, { field: 'files' });
}
