import { BassloomError } from '../../lib/model/errors';
import type { AdminRequest, AdminResponse, RedApi } from '../nodeRed';
import { readSettings } from '../settings';
import { fields } from './fields';

/** Tell the dialog how many bursts there are and how long they take, or which field is wrong and why. */
export function tellPlan(RED: RedApi) {
  return ({ query }: AdminRequest, response: AdminResponse): void => {
    const { planBursts } = require('../../lib/signal/planBursts') as typeof import('../../lib/signal/planBursts');
    try {
      const spec = readSettings(RED, fields, query, {});
      const { bursts, totalSamples } = planBursts(spec);
      const levels = new Set(bursts.map(({ levelDbfs }) => levelDbfs));
      response.json({
        bursts: bursts.length,
        levels: levels.size,
        highestDbfs: Math.max(...levels),
        seconds: totalSamples / spec.sampleRateHz,
      });
    } catch (problem) {
      const { message, field } = problem as BassloomError;
      response.status(400).json({ message, field: problem instanceof BassloomError ? field : undefined });
    }
  };
}
