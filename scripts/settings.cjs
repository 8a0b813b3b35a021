// Settings of the Node-RED that `npm start` and `npm run lab` start: local, quiet, nothing sent anywhere.
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
