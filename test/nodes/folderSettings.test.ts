import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const require = createRequire(import.meta.url);
const { folderSettings } = require('../../dist/nodes/import/folderSettings.js');
const { folderJsonSchema } = require('../../dist/nodes/import/folderSchema.js');

const room = { lengthM: 6, widthM: 4.5, heightM: 2.5 };

test('the file of a folder becomes what messages carry to the nodes', () => {
  const placed = { ...room, name: 'studio', source: [1, 1, 0.2], microphone: [3, 2, 1.2] };
  const text = { title: 'Two boxes', room: placed, knownDipsHz: [43, 71.5], smoothing: 6, windowHeightDb: 8 };
  const content = JSON.stringify({ $schema: 'any', ...text, procedure: { name: 'near', stepDb: 2, smoothing: 3 } });
  expect(folderSettings(`\uFEFF${content}`)).toEqual({
    ...{ title: 'Two boxes', room: placed, listedHz: [43, 71.5] },
    procedure: { name: 'near', stepDb: 2, smoothing: 6, windowHeightDb: 8 },
  });
  expect(folderSettings('{}')).toEqual({});
});

test.each([
  ['{"title": "a",}', undefined, 'not JSON'],
  ['[]', '', 'whole'],
  ['{"rooom": {}}', 'rooom', 'no setting "rooom"'],
  ['{"title": ""}', 'title', 'empty'],
  ['{"knownDipsHz": [40, "50"]}', 'knownDipsHz.1', 'number'],
  ['{"knownDipsHz": [-40]}', 'knownDipsHz.0', 'above 0'],
  ['{"room": {"lengthM": 6, "widthM": 4}}', 'room.heightM', 'a number is needed'],
  [JSON.stringify({ room: { ...room, source: [1, 2] } }), 'room.source', 'three numbers'],
  [JSON.stringify({ room: { ...room, source: [1, 2, 3] } }), 'room.source', 'room.source'],
  ['{"procedure": {"stepDb": 0}}', 'procedure.stepDb', 'above 0'],
  ['{"procedure": {"speed": 0}}', 'procedure.speed', 'no setting'],
  ['{"procedure": {"referenceLowHz": 40}}', 'procedure.referenceLowHz', 'referenceHighHz'],
])('%s is refused by field', (text, field, says) => {
  let problem: { field?: string; message?: string } = {};
  try {
    folderSettings(text);
  } catch (thrown) {
    problem = thrown as typeof problem;
  }
  expect(problem.field).toBe(field);
  expect(problem.message).toMatch(/^bassloom\.json/);
  expect(problem.message).toContain(says);
});

test('its schema is published, with the limits of the dialogs', () => {
  const path = join(resolve(import.meta.dirname, '../..'), 'dist/schemas/bassloom.schema.json');
  const schema = JSON.parse(readFileSync(path, 'utf8'));
  expect(schema).toEqual(JSON.parse(JSON.stringify(folderJsonSchema())));
  expect(Object.keys(schema.properties).sort()).toEqual(
    ['$schema', 'knownDipsHz', 'procedure', 'room', 'smoothing', 'title', 'windowHeightDb'].sort(),
  );
  expect(schema.properties.room.required).toEqual(['lengthM', 'widthM', 'heightM']);
  expect(schema.properties.procedure.properties.stepDb).toMatchObject({ exclusiveMinimum: 0, maximum: 60 });
});
