/**
 * What serves the app: on the machine alone unless one address is given, then on that one and no other; it only gives,
 * and only what was built.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { serveFolder, shareAddress } from '../setup/serving.mjs';

const folder = mkdtempSync(join(tmpdir(), 'axlewright-share-'));
let server: Awaited<ReturnType<typeof serveFolder>>;

beforeAll(async () => {
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>served</title>');
  writeFileSync(join(folder, '.hidden.json'), '{}');
  server = await serveFolder({ folder, host: '127.0.0.2' });
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

/** One request as it is, with any host in its head; what came of it, or why nothing did. */
function ask(host: string, { path = '/', method = 'GET', named = '' } = {}): Promise<number | string> {
  const { port } = new URL(server.origin);
  return new Promise((resolve) => {
    const asked = request({ host, port, path, method, headers: { Host: named || `${host}:${port}` } }, (answer) => {
      answer.resume();
      resolve(answer.statusCode ?? 0);
    });
    asked.on('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    asked.end();
  });
}

describe('shared at one address', () => {
  test('is reached there, by that name, and nowhere else', async () => {
    expect(new URL(server.origin).hostname).toBe('127.0.0.2');
    expect(await ask('127.0.0.2')).toBe(200);
    expect(await ask('127.0.0.1')).toBe('ECONNREFUSED');
    for (const { address, family, internal } of Object.values(networkInterfaces()).flatMap((all) => all ?? []))
      if (family === 'IPv4' && !internal) expect(await ask(address), address).toBe('ECONNREFUSED');
    for (const named of ['localhost', '127.0.0.1', 'elsewhere.example', '0.0.0.0'])
      expect(await ask('127.0.0.2', { named: `${named}:${new URL(server.origin).port}` }), named).toBe(421);
  });

  test('only gives, and only what was built', async () => {
    for (const method of ['POST', 'PUT', 'DELETE', 'PATCH'])
      expect(await ask('127.0.0.2', { method }), method).toBe(405);
    for (const path of [
      '/../package.json',
      '/.hidden.json',
      '/%2e%2e/package.json',
      '/index.html/..',
      '/models/own.json',
    ])
      expect(await ask('127.0.0.2', { path }), path).toBe(404);
  });
});

describe('the address to share at', () => {
  const OWN = [
    { family: 'IPv4', address: '127.0.0.1' },
    { family: 'IPv4', address: '192.0.2.7' },
    { family: 'IPv6', address: '::1' },
  ];

  test('is one of this machine', () => {
    expect(shareAddress('192.0.2.7', OWN)).toBe('192.0.2.7');
    expect(shareAddress('127.0.0.2', OWN)).toBe('127.0.0.2');
  });

  test.each(['0.0.0.0', '::', '', '192.0.2.8', 'localhost', '192.0.2.7:80', '*'])('is not “%s”', (text) => {
    expect(() => shareAddress(text, OWN)).toThrow(/one address of this machine.*192\.0\.2\.7/);
  });
});
