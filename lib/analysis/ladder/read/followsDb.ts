/** A band that lost less than this follows the drive, dB: the smallest onset that is commonly told. */
export const FOLLOWS_DB = 1;
