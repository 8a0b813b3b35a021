import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { boxOf, type FlowNode, overlap, statusBox, wirePoints } from './layout';
import { root } from './script';

const nameOf = ({ name, type }: FlowNode) => name || type;

describe.each(globSync('flows/*/*.json', { cwd: root }))('the layout of %s', (path) => {
  const nodes = (JSON.parse(readFileSync(join(root, path), 'utf8')) as FlowNode[]).filter(({ x }) => x !== undefined);
  const onTab = (one: FlowNode) => nodes.filter((other) => other !== one && other.z === one.z);

  it('lays no node on another', () => {
    const overlaps = nodes.flatMap((one) =>
      onTab(one)
        .filter((other) => one.id < other.id && overlap(boxOf(one), boxOf(other)))
        .map((other) => `${nameOf(one)} and ${nameOf(other)}`),
    );
    expect(overlaps).toEqual([]);
  });

  it('leaves room for the status of each node', () => {
    const speaking = nodes.filter(({ type }) => type.startsWith('bassloom-'));
    const hidden = speaking.flatMap((one) =>
      onTab(one)
        .filter(
          (other) =>
            overlap(statusBox(one), boxOf(other)) ||
            (speaking.includes(other) && one.id < other.id && overlap(statusBox(one), statusBox(other))),
        )
        .map((other) => `status of ${nameOf(one)} meets ${nameOf(other)}`),
    );
    expect(hidden).toEqual([]);
  });

  it('draws no wire through a comment', () => {
    const comments = nodes.filter(({ type }) => type === 'comment');
    const through = nodes.flatMap((from) =>
      (from.wires ?? []).flatMap((targets, port) =>
        targets.flatMap((id) => {
          const to = nodes.find((node) => node.id === id) as FlowNode;
          const isIn = (comment: FlowNode) =>
            comment.z === from.z &&
            wirePoints(from, port, to).some(([x, y]) =>
              overlap(boxOf(comment), { left: x - 2, right: x + 2, top: y - 2, bottom: y + 2 }),
            );
          return comments.filter(isIn).map((comment) => `${nameOf(from)} to ${nameOf(to)} through "${comment.name}"`);
        }),
      ),
    );
    expect(through).toEqual([]);
  });
});
