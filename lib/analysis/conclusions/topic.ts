import type { Conclusions, Detail, Findings, SettingConclusion } from '../../model/findings';
import type { SettingGroup } from './settingGroups';

/** A setting with what was concluded of it, its place among the figures, and its name at two lengths. */
export interface Subject {
  group: SettingGroup;
  conclusion: SettingConclusion;
  /** Counted from 1. */
  index: number;
  /** At most three words, for headlines. */
  short: string;
}

/** What statements are made from. */
export interface Session {
  subjects: Subject[];
  findings: Findings;
  captures: Conclusions['captures'];
  /** Names of the ways of measuring that runs followed. */
  procedures: string[];
  curves: number;
  recordings: number;
}

/** A headline that may be taken: the lowest rank first. Those that are not taken become details. */
export interface Candidate {
  rank: number;
  topic: Detail['topic'];
  headline: Omit<Detail, 'topic'> & { doubt?: string };
  /** Told by a detail of its own, should it not be taken. */
  isCovered?: boolean;
}
