// Arrows run one way: model <- signal <- response <- room, analysis <- rig, archive, report <- nodes.
const floors = [
  ['model'],
  ['import', 'signal'],
  ['response'],
  ['room', 'analysis'],
  ['rig', 'archive', 'report', 'work'],
];
const upward = floors.slice(0, -1).map((rooms, floor) => ({
  name: `${rooms.join('-and-')}-looks-up`,
  comment: 'A lower floor of the library must not know a higher one.',
  severity: 'error',
  from: { path: `^lib/(${rooms.join('|')})/` },
  to: {
    path: `^(lib/(${floors
      .slice(floor + 1)
      .flat()
      .join('|')})/|nodes/)`,
  },
}));

module.exports = {
  forbidden: [
    ...upward,
    {
      name: 'library-knows-node-red',
      severity: 'error',
      from: { path: '^lib/' },
      to: { path: '^(nodes/|node_modules/(node-red|@node-red)/)' },
    },
    {
      name: 'circular',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    { name: 'unresolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { extensions: ['.ts', '.js', '.json'] },
  },
};
