import { readFile } from 'node:fs/promises';
import { deserialize } from 'node:v8';
import Fastify from 'fastify';
import pg from 'pg';
import { APP_ROLE } from '../../../src/platform/database/provide-database.ts';
import { poolMax, type RecordedRequest, type RecordedStatement } from './recorded.ts';

// The floor: sends the recorded statements of a request, one after another, and the recorded answer.
const [url = '', file = ''] = process.argv.slice(2);
const recorded = deserialize(await readFile(file)) as RecordedRequest[];
const pool = new pg.Pool({
  connectionString: url,
  max: poolMax,
  options: `-c timezone=UTC -c role=${APP_ROLE}`,
});
pool.on('error', () => undefined);
const app = Fastify();

app.all<{ Params: { at: string } }>('/replay/:at', async (request, reply) => {
  const work = recorded[Number(request.params.at)];
  if (work === undefined) return reply.code(404).send();
  const first = work.statements.findIndex(({ text }) => text.startsWith('BEGIN'));
  const begin = first === -1 ? work.statements.length : first;
  for (const statement of work.statements.slice(0, begin)) await pool.query(asQuery(statement));
  await inOneConnection(work.statements.slice(begin));
  return reply.code(work.status).headers(work.headers).send(work.body);
});

async function inOneConnection(statements: RecordedStatement[]): Promise<void> {
  const client = await pool.connect();
  try {
    for (const statement of statements) await client.query(asQuery(statement));
    client.release();
  } catch (error) {
    client.release(true);
    throw error;
  }
}

// Columns stay the text the server sent: reading them is work the floor does not do.
const types = { getTypeParser: () => (value: string) => value };

function asQuery({ text, values, name, rowMode }: RecordedStatement): pg.QueryConfig {
  return { text, values, types, ...(name && { name }), ...(rowMode && { rowMode }) };
}

process.send?.(await app.listen({ host: '127.0.0.1', port: 0 }));
