import { startEmbedded } from '../../../src/platform/database/embedded/index.ts';

/**
 * A process that starts the embedded server as `npm start` would, for tests that must kill it or
 * run it under another account. It answers with one line of JSON, and stops the server when its
 * standard input ends; with the manner 'leave' it just comes to its end without stopping anything.
 */
const [dataDir = '', manner = 'stay', uid, gid] = process.argv.slice(2);

if (uid !== undefined && gid !== undefined) {
  process.setgroups?.([]);
  process.setgid?.(Number(gid));
  process.setuid?.(Number(uid));
}

// The strictest usual habit of administrators; nothing may depend on a laxer one.
process.umask(0o077);

const logLines: string[] = [];
try {
  const server = await startEmbedded({ dataDir, log: (line) => logLines.push(line) });
  console.log(JSON.stringify({ kind: 'started', url: server.superuserUrl, logLines }));
  if (manner === 'stay') {
    process.stdin.on('end', () => void server.stop()).resume();
  }
} catch (error) {
  const { code = '', message } = error as { code?: string; message: string };
  console.log(JSON.stringify({ kind: 'refused', code, message }));
}
