// Arrows run one way, one room a floor: a room may ask those before it in this list, never one after it.
const floors = [
  'model',
  'words',
  'wav',
  'signal',
  'import',
  'response',
  'room',
  'analysis',
  'rig',
  'archive',
  'report',
  'work',
];

const upward = floors.map((room, floor) => ({
  name: `${room}-looks-up`,
  comment: 'A lower floor of the library must not know a higher one, nor the public face.',
  severity: 'error',
  from: { path: `^lib/${room}/` },
  to: {
    path: `^(lib/index\\.ts$|nodes/${floors
      .slice(floor + 1)
      .map((above) => `|lib/${above}/`)
      .join('')})`,
  },
}));

module.exports = {
  forbidden: [
    ...upward,
    {
      name: 'words-know-the-model-only',
      severity: 'error',
      from: { path: '^lib/words/' },
      to: { path: '.', pathNot: '^lib/(words|model)/' },
    },
    {
      name: 'room-without-floor',
      comment: 'A new room has to be given its floor above.',
      severity: 'error',
      from: {},
      to: { path: '^lib/[^/]+/', pathNot: `^lib/(${floors.join('|')})/` },
    },
    {
      name: 'library-knows-node-red',
      severity: 'error',
      from: { path: '^lib/' },
      to: { path: '^(nodes/|node_modules/(node-red|@node-red)/)' },
    },
    { name: 'circular', comment: 'Types count too.', severity: 'error', from: {}, to: { circular: true } },
    { name: 'unresolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { extensions: ['.ts', '.js', '.json'] },
  },
};
