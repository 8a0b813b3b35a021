import { procedure, room } from '../configs';
import { flag, number, text } from '../fields';

export const fields = {
  procedure,
  room,
  title: text(),
  dated: flag(true),
  date: text(),
  levelDba: number({ min: 0, max: 200 }),
  write: flag(true),
  folder: text(),
  index: flag(false),
  summary: flag(false),
  pictures: flag(false),
  credit: text(),
};
