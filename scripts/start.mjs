// `npm start`: Node-RED on this machine with the demo flow, which analyses the bundled session and reports.
import { join } from 'node:path';
import { choosePort, packageRoot, startNodeRed } from './nodeRed.mjs';

const port = await choosePort();
const url = `http://127.0.0.1:${port}`;
console.log(`Bassloom demo: the editor opens at ${url} ; the report follows at ${url}/bassloom/report`);
await startNodeRed({
  name: 'demo',
  flow: join(packageRoot, 'flows/demo/demo.json'),
  keepEdits: true,
  env: { PORT: String(port), BASSLOOM_URL: url },
});
