/** Cautions that sound files carry as their comment, for whoever is about to play them. */
export const cautions = {
  sweep: 'Start at a low volume. Loud low bass can damage the driver and hurt ears before it sounds loud.',
  bursts:
    'The last bursts are meant to drive a unit to its limit. Start at a low volume, wear hearing protection or leave the room, and stop at any knock or rattle: loud low bass can damage driver and ears before it sounds loud.',
};
