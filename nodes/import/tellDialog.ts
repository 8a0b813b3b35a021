import type { RedApi } from '../nodeRed';
import { tellFolders } from './tellFolders';
import { tellNames } from './tellNames';

/** What the dialog of the import node asks while it is filled in. */
export function tellDialog(RED: RedApi): void {
  const mayWrite = RED.auth.needsPermission('flows.write');
  RED.httpAdmin.get('/bassloom/file-names', mayWrite, tellNames(RED));
  RED.httpAdmin.get('/bassloom/folders', mayWrite, tellFolders(RED));
}
