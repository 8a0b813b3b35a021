/** What a figure shows, whatever setting it is of. */
export type FigureKind =
  | 'response'
  | 'ladder'
  | 'map'
  | 'distortion'
  | 'harmonics'
  | 'clean'
  | 'ceilings'
  | 'output'
  | 'range'
  | 'difference'
  | 'room'
  | 'roll-off'
  | 'curves'
  | 'captures';
