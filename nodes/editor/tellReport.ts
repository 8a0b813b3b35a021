import type { AdminRequest, AdminResponse } from '../nodeRed';
import { lastOf } from '../seen';

/** Hand over the report that a node put out last: `?id=`. */
export function tellReport({ query }: AdminRequest, response: AdminResponse): void {
  const html = lastOf(query.id ?? '')?.after?.report;
  if (html === undefined) response.status(404).json({ message: 'This node has written no report.' });
  else response.json({ html });
}
