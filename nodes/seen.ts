import type { Measurement, Recording } from '../lib/model/curve';
import type { Findings } from '../lib/model/findings';
import type { Message } from './nodeRed';
import { isMeasurement } from './payload';

/** A recording without its sound, which would be kept from being freed. */
export type Named = Exclude<Measurement, Recording> | Omit<Recording, 'wav'>;

/** What the editor may show of a message. */
export interface View {
  topic?: string;
  measurements: Named[];
  findings: Findings;
  /** HTML of a report. */
  report?: string;
}

/** What a node was given last and what it made of it. */
export interface Seen {
  /** Counts up with everything that is seen, whichever the node. */
  stamp: number;
  /** When it came out, ms since 1970. */
  at: number;
  before?: View;
  after?: View;
}

const seen = new Map<string, Seen>();
const given = new Map<string, View>();
let stamp = 0;
let tell: ((id: string, stamp: number) => void) | undefined;

/** Be told of each node that put something out. */
export function onSeen(listener: typeof tell): void {
  tell = listener;
}

/** Remember what a node was given. References alone are kept: it costs next to nothing, whoever looks. */
export function seeBefore(id: string, message: Message): void {
  const view = viewOf(message);
  if (view) given.set(id, view);
}

/** Remember what a node put out. */
export function seeAfter(id: string, message: unknown): void {
  const view = viewOf(message);
  if (!view) return;
  const before = given.get(id);
  seen.set(id, { stamp: ++stamp, at: Date.now(), ...(before && { before }), after: view });
  tell?.(id, stamp);
}

/** Forget a node that is gone or deployed anew. */
export function forget(id: string): void {
  seen.delete(id);
  given.delete(id);
}

/** What is remembered of a node. */
export function lastOf(id: string): Seen | undefined {
  return seen.get(id) ?? (given.has(id) ? { stamp: 0, at: 0, before: given.get(id) } : undefined);
}

/** Nothing where a message holds neither measurements nor findings. */
function viewOf(message: unknown): View | undefined {
  if (typeof message !== 'object' || message === null || Array.isArray(message)) return undefined;
  const { payload, findings, topic, report } = message as Message;
  const html = (report as { html?: unknown } | undefined)?.html;
  const items = (Array.isArray(payload) ? payload : [payload]).filter(isMeasurement) as Measurement[];
  const hasFindings = typeof findings === 'object' && findings !== null && Object.keys(findings).length > 0;
  if (items.length === 0 && !hasFindings) return undefined;
  return {
    ...(typeof topic === 'string' && { topic }),
    measurements: items.map(withoutSound),
    findings: hasFindings ? (findings as Findings) : {},
    ...(typeof html === 'string' && { report: html }),
  };
}

function withoutSound(item: Measurement): Named {
  if (item.kind === 'curve') return item;
  const { wav, ...rest } = item;
  return rest;
}

/** So many views are kept to be compared with; the oldest goes. */
const MOST_PINNED = 4;
const pinned = new Map<string, View>();

/** Keep what a node put out, whatever it puts out later. @returns the name that it is kept under. */
export function pin(id: string): string | undefined {
  const last = lastOf(id);
  const view = last?.after ?? last?.before;
  if (!view) return undefined;
  const name = `${id} ${++stamp}`;
  pinned.set(name, view);
  if (pinned.size > MOST_PINNED) pinned.delete([...pinned.keys()][0]);
  return name;
}

export function pinnedOf(name: string): View | undefined {
  return pinned.get(name);
}
