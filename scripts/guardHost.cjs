// Answers on this machine's own names only. Any web page can have its own name lead to 127.0.0.1 and then ask this
// machine in the reader's place (DNS rebinding); what it cannot do is to send another Host.
const http = require('node:http');

const OWN = /^(localhost|127\.0\.0\.1|\[::1\])(:\d+)?$/i;
const REFUSAL = `This Bassloom answers on this machine only, as http://127.0.0.1 or http://localhost.
To use it from elsewhere, carry its port over SSH (ssh -L 1880:127.0.0.1:1880 <this machine>), or install the nodes into a
Node-RED of your own with a login: see "Open to a network" in docs/lab.md.
`;

/** Whether a request asks for this machine by a name of its own. */
function isOwnHost(host) {
  return typeof host === 'string' && OWN.test(host);
}

/** Have every server made from now on refuse requests, sockets included, that ask for another name. */
function guardHost() {
  const create = http.createServer;
  http.createServer = (...parts) => {
    const server = create(...parts);
    const emit = server.emit;
    server.emit = function (event, request, answer, ...rest) {
      const isAsked = event === 'request' || event === 'upgrade';
      if (!isAsked || isOwnHost(request.headers.host)) return emit.call(this, event, request, answer, ...rest);
      if (event === 'upgrade') answer.end('HTTP/1.1 403 Forbidden\r\nConnection: close\r\n\r\n');
      else answer.writeHead(403, { 'content-type': 'text/plain; charset=utf-8' }).end(REFUSAL);
      return true;
    };
    return server;
  };
}

module.exports = { guardHost, isOwnHost };
