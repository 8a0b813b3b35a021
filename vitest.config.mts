import { availableParallelism } from 'node:os';
import { configDefaults, defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { chromiumPath } from './test/chromium';

// Tests that look at pages are left out, and that is said, where there is no Chromium; never on a build machine.
const needsBrowser = 'test/**/*.browser.test.ts';
const isLeftOut = !chromiumPath && !process.env.CI;
if (isLeftOut) console.warn(`No Chromium found, so ${needsBrowser} are left out; install it or set BASSLOOM_CHROMIUM.`);

const { exclude } = configDefaults;
const nodes = 'test/nodes/**/*.test.ts';
// Tests of flows and threads change what Node.js keeps for a whole process: each file has one of its own.
const house = 'test/{flows,work}/**/*.test.ts';
/** Starts the browser that tests of pages share. */
const globalSetup = './test/chromiumServer.ts';
// only to end what hangs: a busy machine must not decide
const shared = { testTimeout: 600_000, hookTimeout: 600_000 };

/** What takes longest, longest first; the rest follows by its size, in this order of the projects. */
const LONGEST = ['flows/', 'editor.browser', 'buildReport.browser', 'truth/deconvolution', 'nodes/deconvolve'];
const PROJECTS = ['house', 'pages', 'nodes', 'core'];

/** Begin with what takes long, much of it waiting, and end with many short files, so that all cores are busy to the end. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId, project }: TestSpecification) => {
      const at = LONGEST.findIndex((part) => moduleId.includes(part));
      return at < 0 ? LONGEST.length + PROJECTS.indexOf(project.name) : at;
    };
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  test: {
    // half as many again as there are cores: tests of flows and pages wait for much of their time
    maxWorkers: Math.ceil(1.5 * availableParallelism()),
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          ...shared,
          name: 'house',
          include: [house],
          exclude: [...exclude, needsBrowser],
          ...(chromiumPath && { globalSetup }),
        },
      },
      {
        test: {
          ...shared,
          name: 'pages',
          include: [needsBrowser],
          exclude: isLeftOut ? [...exclude, needsBrowser] : exclude,
          isolate: false,
          globalSetup,
        },
      },
      { test: { ...shared, name: 'nodes', include: [nodes], exclude: [...exclude, needsBrowser], isolate: false } },
      // The others keep nothing from file to file, so that they may share a worker and what it has loaded.
      {
        test: {
          ...shared,
          name: 'core',
          include: ['test/**/*.test.ts'],
          exclude: [...exclude, needsBrowser, house, nodes],
          isolate: false,
        },
      },
    ],
  },
});
