import type { Caveat } from '../../model/caveat';

/** Caveats of one code, said once. */
export interface Gathered {
  /** The heaviest of them; its sentence stands for all. */
  caveat: Caveat;
  /** Names of the runs or files that it holds for, each once. */
  names: string[];
  /** How many there were. */
  count: number;
  /** Whether all of them say the same words. */
  isSame: boolean;
  /** The words of every one of them. */
  messages: Set<string>;
}

/** A caveat with the name of what it was said of; '' where it speaks of no run. */
export interface NamedCaveat {
  caveat: Caveat;
  name: string;
}

const WEIGHT: Record<Caveat['severity'], number> = { warning: 2, doubt: 1, remark: 0 };

/**
 * Say what holds for several runs once: caveats are the same by code, severity, analysis and reason, whatever their other values.
 *
 * @returns the heaviest first, else in the order in which they came.
 *
 * @example
 * gatherCaveats(quality.flatMap(({ label, warnings }) => warnings.map((caveat) => ({ caveat, name: label }))))
 */
export function gatherCaveats(caveats: NamedCaveat[]): Gathered[] {
  const gathered = new Map<string, Gathered>();
  for (const { caveat, name } of caveats) {
    const { code, severity, values } = caveat;
    const key = [code, severity, values.analysis, values.reason].join('\n');
    const group = gathered.get(key) ?? { caveat, names: [], count: 0, isSame: true, messages: new Set() };
    group.count++;
    group.messages.add(caveat.message);
    group.isSame = group.messages.size === 1;
    if (name && !group.names.includes(name)) group.names.push(name);
    gathered.set(key, group);
  }
  return [...gathered.values()].sort((a, b) => WEIGHT[b.caveat.severity] - WEIGHT[a.caveat.severity]);
}
