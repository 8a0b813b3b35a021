import { type Caveat, isDoubted, isUnusable } from '../lib/model/caveat';
import type { Curve, Measurement } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import type { Findings } from '../lib/model/findings';
import { makeCaveat } from '../lib/words/makeCaveat';
import type { Fields, Values } from './fields';
import { explainFileProblem } from './fileProblem';
import { growFindings } from './growFindings';
import type { Done, Message, NodeConfig, RedApi, RedNode, Send } from './nodeRed';
import { curvesIn, isMeasurement, measurementsIn, responsesIn } from './payload';
import { forget, seeAfter, seeBefore } from './seen';
import { readSettings } from './settings';

export type Library = typeof import('../lib');

/** What a node has at hand while it works on one message. */
export interface Work<F extends Fields, M> {
  lib: Library;
  settings: Values<F>;
  /** What came in. Not to be changed. */
  message: Message;
  findings: Findings;
  /** Checked. @throws BassloomError `not-measurements`, and as the library's `checkMeasurement` does. */
  measurements(): Measurement[];
  /** All curves, the responses with the noise of the payload's noise runs. @throws BassloomError as `measurements`. */
  curves(): Curve[];
  /** The responses of those. @throws BassloomError as `measurements`, `no-responses`. */
  responses(): Curve[];
  /** What the node keeps from message to message, as `open` made it. */
  memory: M;
  /** Aborted when the node is closed: for work that takes long. Its reason is what `done` is then told. */
  signal: AbortSignal;
  node: RedNode;
  RED: RedApi;
}

/** What a node passes on. Nothing is sent where it returns none. */
export interface Outcome {
  payload?: Measurement[];
  /** Added to what was found before. */
  findings?: Findings;
  /** Other properties of the message to set. */
  set?: Message;
  status: string;
  /** Show the status in yellow, or in red, whatever the findings' own caveats say. */
  doubtful?: boolean;
  bad?: boolean;
}

export interface Definition<F extends Fields, M> {
  type: string;
  settings: F;
  /**
   * What an analysis refuses it leaves out: the message goes on without it, so that a report can say what is missing
   * and why. Its refusals, and those of a report, name the unit.
   */
  kind?: 'analysis' | 'report';
  /** Begin with a message when it comes, whatever others are at; they are still passed on in the order they came. */
  atOnce?: boolean;
  run(work: Work<F, M>): Outcome | undefined | Promise<Outcome | undefined>;
  /** Called once when the node is deployed, for nodes that keep something or act without a message. */
  open?(own: Own<F>): M;
}

export interface Own<F extends Fields> {
  node: RedNode;
  RED: RedApi;
  settings: Values<F>;
  /** Settle the settings as if such a message had come. @throws BassloomError `bad-setting`. */
  settle(message: Message): Values<F>;
  /** Do something between messages, never during one. */
  enqueue(task: () => Promise<void>): void;
}

/** The settings of every kind of node that was defined, for the build to tell the editor. */
export const declared = new Map<string, Fields>();

/**
 * Make a Node-RED node of a function: settings are checked on deploy and settled for each message, messages are worked
 * on one after another unless the node says `atOnce`, what came in is left alone, unknown properties are passed on,
 * `done` is called once.
 * The library is loaded when first needed, so that it costs Node-RED nothing at start.
 */
export function define<F extends Fields, M = undefined>(definition: Definition<F, M>): (RED: RedApi) => void {
  declared.set(definition.type, definition.settings);
  return (RED) => {
    RED.nodes.registerType(definition.type, function (this: RedNode, config: NodeConfig) {
      RED.nodes.createNode(this, config);
      live(RED, this, config, definition);
    });
  };
}

function live<F extends Fields, M>(RED: RedApi, node: RedNode, config: NodeConfig, definition: Definition<F, M>): void {
  const read = (message?: Message) => readSettings(RED, definition.settings, config, message);
  const closing = new AbortController();
  const run = async (message: Message): Promise<Outcome | undefined> => {
    const lib = require('../lib') as Library;
    let checked: Measurement[] | undefined;
    const measurements = () => {
      checked ??= measurementsIn(lib, message);
      return checked;
    };
    const unlike: Caveat[] = [];
    const without = ({ id, label }: Curve) =>
      unlike.push(makeCaveat('noise-unlike', 'remark', {}, { file: label, curve: id }));
    let attached: Curve[] | undefined;
    const curves = () => {
      attached ??= curvesIn(lib.attachNoiseRuns(measurements(), without));
      return attached;
    };
    let found: Findings | undefined;
    const outcome = await definition.run({
      lib,
      settings: read(message),
      message,
      get findings() {
        found ??= lib.checkFindings(message.findings ?? {});
        return found;
      },
      measurements,
      curves,
      responses: () => responsesIn(curves()),
      memory: memory as M,
      signal: closing.signal,
      node,
      RED,
    });
    if (!outcome || unlike.length === 0) return outcome;
    return { ...outcome, findings: { ...outcome.findings, notes: [...(outcome.findings?.notes ?? []), ...unlike] } };
  };
  const take = async (
    message: Message,
    send: Send,
    done: Done,
    begun?: Promise<Outcome | undefined>,
  ): Promise<void> => {
    let problem: unknown;
    try {
      const outcome = await (begun ?? run(message));
      if (outcome) {
        send(next(message, outcome));
        node.status({ fill: colourOf(outcome), shape: 'dot', text: outcome.status });
      }
    } catch (thrown) {
      problem = explainFileProblem(thrown ?? new Error('unknown'));
      if (!closing.signal.aborted) {
        showProblem(RED, node, problem);
        const without = definition.kind === 'analysis' && withoutIt(definition.type, message, problem);
        if (without) send(without);
      }
      if (definition.kind) problem = ofUnit(problem, message);
    }
    done(withCause(problem));
  };

  const { send: sendOn } = node;
  node.send = (message) => {
    seeAfter(node.id, message);
    sendOn.call(node, message);
  };

  let memory: M | undefined;
  let turn: Promise<void> = Promise.resolve();
  const enqueue = (task: () => Promise<void>): void => {
    turn = turn.then(task, task);
  };
  node.on('input', (message, send, done) => {
    seeBefore(node.id, message);
    const begun = definition.atOnce ? run(message) : undefined;
    begun?.catch(() => {}); // told when its turn comes
    enqueue(() => take(message, send, done, begun));
  });
  node.on('close', (_removed, done) => {
    closing.abort(new BassloomError('stopped', 'Stopped, since the node was deployed anew or removed; send it again.'));
    forget(node.id);
    turn.then(done, done);
  });
  try {
    node.status({});
    const settings = read();
    memory = definition.open?.({ node, RED, settings, settle: read, enqueue });
  } catch (problem) {
    showProblem(RED, node, problem);
    node.error(problem);
  }
}

/** Nothing can be said of such messages, by no analysis. */
const HOPELESS = new Set([
  ...['not-measurements', 'no-responses', 'not-findings', 'bad-measurement', 'bad-findings', 'unequal-findings'],
  ...['not-an-array', 'not-a-number', 'unequal-columns', 'empty-curve', 'frequency-not-rising'],
]);

/** The message as it goes on where an analysis refused it; none where it holds nothing to go on with. */
function withoutIt(type: string, message: Message, problem: unknown): Message | undefined {
  const { code = '', message: said } = problem as Partial<BassloomError>;
  if (HOPELESS.has(code) || !Array.isArray(message.payload) || !message.payload.every(isMeasurement)) return undefined;
  const values = { analysis: type.replace(/^bassloom-/, '') };
  const because = said === undefined ? { code, message: String(problem) } : (problem as BassloomError);
  return next(message, {
    findings: { notes: [makeCaveat('analysis-missing', 'doubt', values, {}, because)] },
    status: '',
  });
}

/** A refusal that says which unit it is of. */
function ofUnit(problem: unknown, { topic }: Message): unknown {
  if (!(problem instanceof BassloomError) || typeof topic !== 'string' || topic === '') return problem;
  const { code, message } = problem;
  return message.includes(topic) ? problem : new BassloomError(code, `${topic}: ${message}`, problem);
}

/** Red where a finding is not to be used, yellow where some of its numbers are in doubt; remarks leave it green. */
function colourOf({ bad, doubtful, findings = {} }: Outcome): 'red' | 'yellow' | 'green' {
  const all = { caveats: caveatsIn(findings) };
  if (bad || isUnusable(all)) return 'red';
  return doubtful || isDoubted(all) ? 'yellow' : 'green';
}

/** What is said of the findings themselves. How good captures are says their verdict, which the node tells. */
function caveatsIn({ captureQuality, notes = [], conclusions, ...findings }: Findings): Caveat[] {
  const every = Object.values(findings).flat() as { caveats?: Caveat[] }[];
  return [...notes, ...every.flatMap(({ caveats = [] }) => caveats)];
}

function next(message: Message, outcome: Outcome): Message {
  const { payload, findings } = outcome;
  return {
    ...message,
    ...(payload && { payload }),
    ...(findings && { findings: growFindings(beforeThese(message, findings), findings) }),
    ...outcome.set,
  };
}

/** What was found before, of which only what grows needs to be sound. */
function beforeThese(message: Message, findings: Findings): Findings {
  const { checkFindings } = require('../lib') as Library;
  return checkFindings(message.findings ?? {}, Object.keys(findings) as (keyof Findings)[]);
}

/** Say in red what is wrong, the setting's name first where it is a setting. */
export function showProblem(RED: RedApi, node: RedNode, problem: unknown): void {
  const { code, field } = problem as Partial<BassloomError>;
  const shared = '@bassloom/node-red-bassloom/bassloom-editor:status.';
  const text =
    code === 'bad-setting'
      ? `${field}: ${RED._(`${shared}badSetting`)}`
      : (code?.replaceAll('-', ' ') ?? RED._(`${shared}failed`));
  node.status({ fill: 'red', shape: 'ring', text });
}

/** Catch nodes are shown a problem's `code` and `cause`: where it is travels in the latter. */
export function withCause(problem: unknown): unknown {
  if (problem instanceof BassloomError && problem.cause === undefined) {
    const { code, line, field, index, measurement } = problem;
    const value = { code, line, field, index, measurement };
    Object.defineProperty(problem, 'cause', { value, enumerable: false });
  }
  return problem;
}
