import { BassloomError } from '../../lib/model/errors';
import { number } from '../fields';
import type { AdminRequest, AdminResponse, RedApi } from '../nodeRed';
import { readSettings } from '../settings';
import { fields } from './fields';

const asked = { ...fields, levelDba: number({ min: 0, max: 200 }) };

/**
 * Tell the dialog how long the sweep and its file become and how long ears may stay at a level, or which field is
 * wrong and why.
 */
export function tellPlan(RED: RedApi) {
  return ({ query }: AdminRequest, response: AdminResponse): void => {
    const { permittedSeconds } = require('../../lib') as typeof import('../../lib');
    const { planSweep } = require('../../lib/signal/sweepPlan') as typeof import('../../lib/signal/sweepPlan');
    try {
      const { levelDba, ...spec } = readSettings(RED, asked, query, {});
      const { sampleRateHz, sweepSeconds, leadInSamples, tailSamples, totalSamples } = planSweep(spec);
      const seconds = totalSamples / sampleRateHz;
      const permitted = levelDba === undefined ? null : permittedSeconds(levelDba);
      response.json({
        sweepSeconds,
        seconds,
        leadInSeconds: leadInSamples / sampleRateHz,
        tailSeconds: tailSamples / sampleRateHz,
        permittedSeconds: permitted,
        permittedRuns: permitted === null ? null : Math.floor(permitted / seconds),
      });
    } catch (problem) {
      const { message, field } = problem as BassloomError;
      response.status(400).json({ message, field: problem instanceof BassloomError ? field : undefined });
    }
  };
}
