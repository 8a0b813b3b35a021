/** The part of Node-RED's runtime interface that these nodes use. */

export interface Message {
  [property: string]: unknown;
}

export type Send = (message: Message) => void;
export type Done = (problem?: unknown) => void;

export interface Status {
  fill?: 'green' | 'yellow' | 'red' | 'blue' | 'grey';
  shape?: 'dot' | 'ring';
  text?: string;
}

export interface ContextStore {
  get(key: string, store: string | undefined, callback: (problem: unknown, value: unknown) => void): void;
  set(key: string, value: unknown, store: string | undefined, callback: (problem: unknown) => void): void;
}

export interface RedNode {
  id: string;
  name?: string;
  on(event: 'input', listener: (message: Message, send: Send, done: Done) => void): void;
  on(event: 'close', listener: (removed: boolean, done: () => void) => void): void;
  send: Send;
  status(status: Status): void;
  error(problem: unknown, message?: Message): void;
  log?(text: string): void;
  context(): ContextStore;
}

export type NodeConfig = Record<string, unknown>;

export interface AdminRequest {
  query: Record<string, string | undefined>;
}
export interface AdminResponse {
  status(code: number): AdminResponse;
  json(body: unknown): void;
  set(header: string, value: string): AdminResponse;
  send(body: string | Uint8Array): void;
}
type Handler = (request: AdminRequest, response: AdminResponse, next: () => void) => void;

export interface RedApi {
  /** What the editor asks; guarded by `auth`. */
  httpAdmin: { get(path: string, ...handlers: Handler[]): void };
  auth: { needsPermission(scope: string): Handler };
  nodes: {
    createNode(node: RedNode, config: NodeConfig): void;
    registerType(type: string, make: (this: RedNode, config: NodeConfig) => void): void;
    getNode(id: string): unknown;
  };
  /** To every editor that is open. */
  comms: { publish(topic: string, data: unknown, retain?: boolean): void };
  settings?: { fileWorkingDirectory?: string };
  util: { cloneMessage<T>(value: T): T };
  _(key: string, values?: Record<string, unknown>): string;
}
