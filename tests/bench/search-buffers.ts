import type pg from 'pg';
import { pino } from 'pino';
import { findCallersStatement, findCallersValues } from '../../src/calls/find-callers.ts';
import { glanceAt } from '../../src/calls/glance-at.ts';
import { type Database, likenessSetting, sqlOn } from '../../src/platform/database/database.ts';
import { buffersOf } from './buffers-of.ts';
import { rehearseStatements } from './servers/record-statements.ts';

/** What somebody types while a caller talks. */
export const searches = {
  'a phone number': '555-0142',
  'a name': 'Ottoline Nettlecroft',
  'a mistyped name': 'Otoline Netlecroft',
  'a street with its number': '1200 Foxglove Lane',
  'a mistyped street with its number': '1200 Foxglowe Lane',
} as const;

/** Pages touched by each search, and by a glance at a site that has a history of its own. */
export async function searchBuffers(
  client: pg.Client,
  db: Pick<Database, 'prisma' | 'pool'>,
): Promise<Record<string, number>> {
  const touched: Record<string, number> = {};
  await client.query('BEGIN');
  await client.query(`SET LOCAL ${likenessSetting}`);
  for (const [what, search] of Object.entries(searches)) {
    const statement = { text: findCallersStatement, values: findCallersValues(search) };
    touched[what] = await buffersOf(client, [statement]);
  }
  await client.query('ROLLBACK');
  touched['a site at a glance'] = await buffersOf(client, await glanceStatements(client, db));
  return touched;
}

/** The site of the most closed tickets among those of the first company, which get no more. */
export async function busySite(client: pg.Client): Promise<string> {
  const found = await client.query<{ site_id: string }>(`
    SELECT site_id FROM ticket WHERE state = 'closed' AND id::text NOT LIKE '00000000%'
    GROUP BY site_id ORDER BY count(*) DESC, site_id LIMIT 1`);
  const [site] = found.rows;
  if (site === undefined) throw new Error('no site has a closed ticket');
  return site.site_id;
}

/** A glance as an owner takes it. */
export function glance({ prisma, pool }: Pick<Database, 'prisma' | 'pool'>, siteId: string) {
  return glanceAt(
    {
      ...{ prisma, sql: sqlOn(pool), now: new Date(), requestId: 'bench' },
      actor: { kind: 'staff', id: siteId, role: 'owner', name: 'The owner' },
      log: pino({ level: 'silent' }),
    },
    siteId,
  );
}

async function glanceStatements(client: pg.Client, db: Pick<Database, 'prisma' | 'pool'>) {
  const siteId = await busySite(client);
  const recorder = rehearseStatements();
  try {
    await glance(db, siteId);
    return recorder.take().filter(({ text }) => text.startsWith('SELECT'));
  } finally {
    recorder.stop();
  }
}
