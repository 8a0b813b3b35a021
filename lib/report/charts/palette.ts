/**
 * Every colour a chart may use, by what it is for. All values of one palette differ from each other,
 * so that a drawn colour still tells its purpose.
 */
export interface Palette {
  paper: string;
  ink: string;
  muted: string;
  axis: string;
  grid: string;
  /** Behind a room's dip. */
  dip: string;
  /** Behind a room's peak. */
  peak: string;
  /** Fill and edge of the window that a range is read in. */
  window: string;
  windowEdge: string;
  /** Things that are told apart: settings, units. Own order; distinct for the common kinds of colour blindness. */
  lines: string[];
  /** Things that rise: rungs, lowest first. Even steps of lightness. */
  ramp: string[];
  /** Compression, none to most; the first is expansion. */
  heat: string[];
  /** What is written on each heat colour. */
  heatInk: string[];
}

/** Dark on light: also what is printed. */
export const LIGHT: Palette = {
  paper: '#fdfcfa',
  ink: '#1b1e24',
  muted: '#575e69',
  axis: '#848a94',
  grid: '#e4e2db',
  dip: '#ece6d6',
  peak: '#e9eef4',
  window: '#dff0e6',
  windowEdge: '#2c7a57',
  lines: ['#1a58a8', '#b34f0c', '#1f8072', '#561a66', '#4d3b00', '#b0274e'],
  ramp: ['#7d92aa', '#6b84a0', '#5a7696', '#4b698b', '#3d5c80', '#304f74', '#244267', '#193559', '#0f2849'],
  heat: ['#cfe4f6', '#f3f0e7', '#f7e0b2', '#f1c17d', '#e59d55', '#ba5822', '#8f331d', '#571715'],
  heatInk: ['#1b1e25', '#1b1e26', '#1b1e27', '#1b1e28', '#1b1e29', '#fffffe', '#fffffd', '#fffffc'],
};

/** Light on dark, same order and meaning. */
export const DARK: Palette = {
  paper: '#15181c',
  ink: '#ece9e3',
  muted: '#a9afb8',
  axis: '#7a818b',
  grid: '#2b3037',
  dip: '#38321f',
  peak: '#1d2631',
  window: '#1c3429',
  windowEdge: '#6cc79b',
  lines: ['#9cc8f5', '#f0833a', '#52cbaa', '#c56ce8', '#f2e46e', '#e5647f'],
  ramp: ['#6f8298', '#7d91a8', '#8ba0b8', '#99afc8', '#a8bed7', '#b7cde4', '#c6dbf0', '#d6e8f9', '#e8f3ff'],
  heat: ['#1f4263', '#252a30', '#4a3c22', '#6e5227', '#976a2d', '#c98a3f', '#edb469', '#ffe0a8'],
  heatInk: ['#ece9e4', '#ece9e5', '#ece9e6', '#ece9e7', '#fffffb', '#15181d', '#15181e', '#15181f'],
};

/** Black on white, for print and copy: as the light one, with more contrast and greys for areas. */
export const PAPER: Palette = {
  ...LIGHT,
  paper: '#ffffff',
  ink: '#000000',
  muted: '#3b4048',
  axis: '#767b84',
  grid: '#dcdcdc',
  dip: '#e9e9e9',
  peak: '#f1f1f1',
  window: '#e3ebe6',
  windowEdge: '#1d5a3f',
};

/** Upper limits of the heat colours, dB; above the last one comes the last colour. */
export const HEAT_LIMITS_DB = [-0.5, 0.5, 1, 2, 3, 6, 10];

/** The heat colour of a drive that arrives in full; of the limits, the one it ends at. */
export const HEAT_IN_FULL = 1;

/** Which heat colour a compression has. */
export function heatIndex(compressionDb: number): number {
  const index = HEAT_LIMITS_DB.findIndex((limit) => compressionDb < limit);
  return index < 0 ? HEAT_LIMITS_DB.length : index;
}

/** Which ramp colour rung `k` of `count` has: the lowest the faintest, the loudest the strongest. */
export function rampIndex(k: number, count: number): number {
  return count < 2 ? 8 : Math.round((8 * k) / (count - 1));
}

/** Upper limits of the heat colours of THD, %; the colour of expansion is not used. */
export const PERCENT_LIMITS = [1, 2, 3, 5, 10, 20];

/** Which heat colour a THD has. */
export function percentHeatIndex(percent: number): number {
  const index = PERCENT_LIMITS.findIndex((limit) => percent < limit);
  return 1 + (index < 0 ? PERCENT_LIMITS.length : index);
}
