// Settings of the Node-RED that `npm start` and `npm run lab` start: local, quiet, nothing sent anywhere.
const { guardHost } = require('./guardHost.cjs');

guardHost();
// the script that started this is gone, however it ended: nobody would end this one
if (process.connected) process.once('disconnect', () => process.kill(process.pid, 'SIGTERM'));
// ... and its channel keeps nothing else going
process.channel?.unref();

module.exports = {
  uiHost: '127.0.0.1',
  uiPort: Number(process.env.PORT),
  flowFile: 'flows.json',
  credentialSecret: false,
  ...(process.env.BASSLOOM_HEADLESS && { httpAdminRoot: false }),
  telemetry: { enabled: false, updateNotification: false },
  fileWorkingDirectory: process.env.BASSLOOM_HOME,
  editorTheme: { projects: { enabled: false }, tours: false, page: { title: 'Bassloom' } },
  contextStorage: { default: { module: 'memory' }, file: { module: 'localfilesystem' } },
  logging: { console: { level: process.env.BASSLOOM_LOG || 'info', metrics: false, audit: false } },
};
