/** A range of frequencies, both ends in Hz, low end first. */
export type Interval = [lowHz: number, highHz: number];
