/** What can hurt people or equipment when measurements like these are made. Plain HTML list. */
export const CAUTIONS = `<ul>
<li><strong>Ears.</strong> Levels like those in this report damage hearing. Wear hearing protection, keep people and animals out of the room, and start every series at the lowest drive.</li>
<li><strong>Low bass.</strong> An A-weighted meter reads 20&nbsp;Hz about 50&nbsp;dB too low (IEC 61672-1): it shows a harmless number while the true level is not harmless. Judge by unweighted level, and keep exposures short.</li>
<li><strong>Mains.</strong> Work on mains-powered equipment only with the plug out, and leave wiring and opened amplifiers to those who are licensed for it. Parts inside stay charged after the plug is pulled. Follow the electrical code of the place.</li>
<li><strong>Weight.</strong> Heavy units need two people or a lift, and must not be able to tip, walk or fall while they play.</li>
<li><strong>Drivers and amplifiers.</strong> Sweeps near the limit destroy drivers and amplifiers within seconds: raise the drive in small steps, stop at the first knock, rattle or smell, and let the unit cool between runs. Below the tuning of a vented box the cone is not held by the air.</li>
<li><strong>The building.</strong> Loose panes, lamps and shelves move at these frequencies, and neighbours hear what a meter in the room does not show. Keep to local noise rules.</li>
</ul>`;
