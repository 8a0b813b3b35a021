// `npm start`: Node-RED on this machine with the demo, which reports on the bundled session and then on a unit that it
// sweeps itself.
import { join } from 'node:path';
import { choosePort, packageRoot, startNodeRed } from './nodeRed.mjs';

const port = await choosePort();
const url = `http://127.0.0.1:${port}`;
console.log(`Bassloom demo: the editor opens at ${url}`);
console.log(`Reports follow at ${url}/bassloom/report and, some twenty seconds later, at ${url}/bassloom/sweep-report`);
await startNodeRed({
  name: 'demo',
  flow: join(packageRoot, 'flows/demo/demo.json'),
  keepEdits: true,
  env: { PORT: String(port), BASSLOOM_URL: url },
});
