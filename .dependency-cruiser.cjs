/** Imports point inwards only: contract <- core <- monitor <- adapters <- root; host beside the contract, for adapters and root. */
const adapters = 'board|store|messaging|review|worlds';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    { name: 'no-folder-circle', severity: 'error', scope: 'folder', from: {}, to: { circular: true } },
    {
      name: 'contract-stands-alone',
      comment: 'shared/ is the contract: it knows zod and itself, nothing of Node and nothing of src/.',
      severity: 'error',
      from: { path: '^shared/', pathNot: '^shared/generate\\.ts$' },
      to: { pathNot: ['^shared/', '^node_modules/zod/'] },
    },
    {
      name: 'core-is-pure',
      comment:
        'numbers, drying, sensing and watering may import each other downward and the contract; no Node, no libraries but numeric ones.',
      severity: 'error',
      from: { path: '^src/(numbers|drying|sensing|watering)/' },
      to: { pathNot: ['^src/(numbers|drying|sensing|watering)/', '^shared/', '^node_modules/ml-'] },
    },
    {
      name: 'numbers-are-lowest',
      severity: 'error',
      from: { path: '^src/numbers/' },
      to: { path: '^src/(?!numbers/)' },
    },
    {
      name: 'sensing-below-drying',
      severity: 'error',
      from: { path: '^src/sensing/' },
      to: { path: '^src/(drying|watering)/' },
    },
    {
      name: 'drying-below-watering',
      severity: 'error',
      from: { path: '^src/drying/' },
      to: { path: '^src/watering/' },
    },
    {
      name: 'monitor-knows-core-only',
      severity: 'error',
      from: { path: '^src/monitor/' },
      to: {
        pathNot: [
          '^src/(monitor|drying|numbers|sensing|watering)/',
          '^shared/',
          '^node_modules/(luxon|@types/luxon)/',
        ],
      },
    },
    ...adapters.split('|').map((name) => ({
      name: `adapter-${name}-never-another`,
      severity: 'error',
      from: { path: `^src/${name}/` },
      to: {
        path: `^src/(cli|${adapters
          .split('|')
          .filter((n) => n !== name)
          .join('|')})/`,
      },
    })),
    {
      name: 'a-world-never-another',
      comment: "The demo, recordings and loggers' files each drive the house by themselves.",
      severity: 'error',
      from: { path: '^src/worlds/([^/]+)/' },
      to: { path: '^src/worlds/', pathNot: '^src/worlds/$1/' },
    },
    {
      name: 'host-is-lowest',
      comment:
        'src/host is how files are written, opened and set aside, who may come in and how fast: every room of the rim may use it, and it knows none of it.',
      severity: 'error',
      from: { path: '^src/host/' },
      to: { path: '^src/(?!host/)' },
    },
    {
      name: 'only-root-imports-cli',
      severity: 'error',
      from: { path: '^src/(?!cli/)' },
      to: { path: '^src/cli/' },
    },
    {
      name: 'src-never-imports-tests',
      severity: 'error',
      from: { path: '^(src|shared)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'runtime-needs-runtime-dependencies',
      severity: 'error',
      from: { path: '^(src|shared)/' },
      to: { dependencyTypes: ['npm-dev'], pathNot: '^node_modules/@types/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
    },
  },
};
