/** The public face of the library: everything here has a stable name, unit and shape. */
export * from './model/curve';
export * from './model/decibel';
export { BassloomError } from './model/errors';
export * from './model/findings';
export { type CurveParts, deriveCurve, makeCurve } from './model/makeCurve';
export * from './model/octaves';
export * from './report/summary';
