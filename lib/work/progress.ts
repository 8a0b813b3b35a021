/** Says how far a task is, 0 to 1. */
export type Progress = (share: number) => void;
