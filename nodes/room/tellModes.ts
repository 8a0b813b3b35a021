import type { AdminRequest, AdminResponse } from '../nodeRed';

const UP_TO_HZ = 200;

/** Tell the dialog what modes a room has. */
export function tellModes({ query }: AdminRequest, response: AdminResponse): void {
  const [lengthM, widthM, heightM] = [query.lengthM, query.widthM, query.heightM].map(Number);
  const { roomModes } = require('../../lib') as typeof import('../../lib');
  const temperatureC = query.temperatureC ? Number(query.temperatureC) : undefined;
  try {
    const modes = roomModes({ lengthM, widthM, heightM, temperatureC }, { toHz: UP_TO_HZ });
    const lowestHz = modes.slice(0, 3).map((mode) => mode.frequencyHz);
    response.json({ upToHz: UP_TO_HZ, count: modes.length, lowestHz });
  } catch (problem) {
    response.status(400).json({ message: (problem as Error).message });
  }
}
