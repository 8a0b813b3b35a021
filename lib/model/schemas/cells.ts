import { z } from 'zod';
import { db, maybe } from '../schemaParts';

export const perBand = z.array(maybe(db)).describe('one value for each of bandsHz');
export const cells = z.array(perBand).describe('[rung][band]');
