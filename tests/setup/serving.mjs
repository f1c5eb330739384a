// Serves a built folder, and nothing else, to the pages of this machine; or, where one of the machine's own addresses is
// given, to whoever reaches that one.
//
// What is served is read once, when the server starts: plain files of the folder, no links, nothing whose name begins
// with a dot. A request names one of them exactly or gets 404, so that no path leads out. A request that was sent to
// another host than this server's own is refused: a foreign page that has made its name point here gets nothing. The
// content-security policy is the one that the build wrote into the page, with what only a header can say.

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { isIPv4 } from 'node:net';
import { networkInterfaces } from 'node:os';
import { extname, join } from 'node:path';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};

/** Every plain file of a folder by its path from there, `/` between the names. */
function filesOf(folder, before = '') {
  const found = new Map();
  for (const entry of readdirSync(join(folder, before), { withFileTypes: true })) {
    const path = before + entry.name;
    if (entry.name.startsWith('.')) continue;
    if (entry.isDirectory()) for (const [name, file] of filesOf(folder, `${path}/`)) found.set(name, file);
    else if (entry.isFile()) {
      const bytes = readFileSync(join(folder, path));
      const type = TYPES[extname(path)];
      if (type !== undefined)
        found.set(path, { bytes, type, tag: `"${createHash('sha256').update(bytes).digest('base64url')}"` });
    }
  }
  return found;
}

/** The policy that a page states in its head. */
function policyOf(html) {
  return /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1];
}

const isLoopback = (host) => host.startsWith('127.');

/**
 * The address that a class is served at: one of this machine's own, as numbers. Never all of them at once: whoever
 * shares says with whom.
 */
export function shareAddress(text, own = Object.values(networkInterfaces()).flatMap((all) => all ?? [])) {
  const known = own.filter(({ family }) => family === 'IPv4').map(({ address }) => address);
  if (isIPv4(text) && (isLoopback(text) || known.includes(text))) return text;
  const here = known.filter((address) => !isLoopback(address));
  throw new Error(
    `--share wants one address of this machine, not ${text}. ${here.length > 0 ? `It has ${here.join(', ')}.` : 'It has none that others reach.'}`,
  );
}

/**
 * Serves `folder` on `host`, 127.0.0.1 if not said, under `base` (a path that begins and ends with a slash); with `port` 0 on a free one,
 * with a taken one on the next that is free unless `isStrict`.
 */
export async function serveFolder({ folder, port = 0, base = '/', isStrict = false, host = '127.0.0.1' }) {
  const files = filesOf(folder);
  const policy = policyOf(files.get('index.html')?.bytes.toString('utf8') ?? '') ?? "default-src 'none'";
  const headers = {
    'Content-Security-Policy': `${policy}; frame-ancestors 'none'`,
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': 'DENY',
    'Referrer-Policy': 'no-referrer',
    // Over plain http a browser trusts only its own machine with it, and grumbles at any other.
    ...(isLoopback(host) ? { 'Cross-Origin-Opener-Policy': 'same-origin' } : {}),
    'Cross-Origin-Embedder-Policy': 'require-corp',
    'Cross-Origin-Resource-Policy': 'same-origin',
  };
  const server = createServer((request, response) => {
    const refuse = (status, words) => {
      response.writeHead(status, { ...headers, 'Content-Type': 'text/plain; charset=utf-8', Connection: 'close' });
      response.end(`${words}\n`);
    };
    const own = server.address().port;
    const names = host === '127.0.0.1' ? [host, 'localhost'] : [host];
    if (!names.some((name) => request.headers.host === `${name}:${own}`))
      return refuse(421, 'This server answers to its own address alone.');
    if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(405, 'This server only gives.');
    let path;
    try {
      path = decodeURIComponent(request.url.replace(/[?#].*$/s, ''));
    } catch {
      return refuse(400, 'This is no address.');
    }
    const name = path.startsWith(base) ? path.slice(base.length) || 'index.html' : undefined;
    const file = name === undefined ? undefined : files.get(name);
    if (file === undefined) return refuse(404, 'There is no such file here.');
    const isNamedByContent = name.startsWith('assets/');
    const about = {
      ...headers,
      'Content-Type': file.type,
      'Cache-Control': isNamedByContent ? 'public, max-age=31536000, immutable' : 'no-cache',
      ETag: file.tag,
    };
    if (request.headers['if-none-match'] === file.tag) {
      response.writeHead(304, about);
      return response.end();
    }
    response.writeHead(200, { ...about, 'Content-Length': file.bytes.length });
    response.end(request.method === 'HEAD' ? undefined : file.bytes);
  });
  for (let at = port; ; at++) {
    try {
      await listening(server, at, host);
      break;
    } catch (error) {
      if (error.code !== 'EADDRINUSE' || isStrict || at >= 65535) throw error;
    }
  }
  const origin = `http://${host}:${server.address().port}${base}`;
  const close = () =>
    new Promise((resolve) => {
      server.close(resolve);
      server.closeAllConnections();
    });
  return { origin, close };
}

function listening(server, port, host) {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });
}
