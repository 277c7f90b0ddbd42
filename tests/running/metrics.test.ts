import { connect } from 'node:net';
import parseText from 'parse-prometheus-text-format';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { type LoadedStaff, loadCompany } from '../../seed/load-company.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { readConfig } from '../../src/platform/config.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { createMetrics } from '../../src/platform/metrics/create-metrics.ts';
import { gaugesOf } from '../../src/platform/metrics/gauges-of.ts';
import { type Running, start } from '../../src/start.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const undo: Undo = [];
let database: TestDatabase;
let running: Running;
let staff: Record<StaffKey, LoadedStaff>;
beforeAll(async () => {
  database = await createTestDatabase();
  undo.push(database.drop);
  const config = readConfig({
    ...{ DATABASE_URL: database.url, PORT: '0', METRICS_PORT: '0' },
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  running = await start(config, pino({ level: 'silent' }));
  undo.push(running.stop);
  staff = await loadCompany({ db: running.db, clock: systemClock, ids: timedIds(systemClock) });
}, 120_000);
afterAll(() => undoAll(undo));

/** The figures as text, and read by a parser that is none of ours. */
async function read() {
  const answer = await fetch(running.metricsUrl ?? '');
  const text = await answer.text();
  expect(answer.status).toBe(200);
  const figures = parseText(text);
  const one = (name: string) => {
    const family = figures.find((each) => each.name === name);
    return Number(family?.metrics[0]?.value);
  };
  return { text, figures, one, mediaType: answer.headers.get('content-type') };
}

const as = (who: StaffKey) => ({ authorization: `Bearer ${staff[who].token}` });

/** Requests counted by route and status; the parser leaves the labels of histograms out. */
async function counted() {
  const { text } = await read();
  const counts = text.matchAll(
    /^evenhand_http_request_duration_seconds_count\{method="(\w+)",route="([^"]+)",status="(\w+)"\} (\d+)$/gm,
  );
  return [...counts].map(([, method, route, status, count]) => ({
    ...{ method, route, status },
    count: Number(count),
  }));
}

describe('the figures', () => {
  it('are text of the exposition format, version 0.0.4', async () => {
    const { text, mediaType, figures } = await read();
    expect(mediaType).toBe('text/plain; version=0.0.4; charset=utf-8');
    expect(text.endsWith('\n')).toBe(true);
    const lines = text.trimEnd().split('\n');
    // The format's own rules (prometheus.io, "Exposition formats", text format).
    const SAMPLE =
      /^[a-zA-Z_:][\w:]*(\{([a-zA-Z_]\w*="([^"\\\n]|\\[\\"n])*",?)*\})? ([-+]?[\d.]+(e[-+]?\d+)?|NaN|[-+]Inf)$/;
    for (const line of lines.filter((each) => each !== '')) {
      expect(line).toMatch(line.startsWith('#') ? /^# (HELP|TYPE) [a-zA-Z_:][\w:]* .+$/ : SAMPLE);
    }
    const types = lines
      .filter((line) => line.startsWith('# TYPE'))
      .map((line) => line.split(' ')[2]);
    expect(new Set(types).size).toBe(types.length);
    expect(figures.map(({ name }) => name).sort()).toEqual([...types].sort());
  });

  it('tell of Node, the database, the sealer, the outbox, the press and the audit', async () => {
    const { figures, one } = await read();
    expect(figures.map(({ name }) => name)).toEqual(
      expect.arrayContaining([
        ...['process_resident_memory_bytes', 'nodejs_eventloop_lag_p99_seconds'],
        ...['evenhand_database_connections_in_use', 'evenhand_database_requests_waiting'],
        ...['evenhand_journal_unsealed_entries', 'evenhand_journal_unsealed_age_seconds'],
        ...['evenhand_outbox_waiting_deliveries', 'evenhand_outbox_overdue_seconds'],
        ...['evenhand_press_papers_drawing', 'evenhand_press_papers_waiting'],
        ...['evenhand_audit_run_done_tickets', 'evenhand_audit_run_total_tickets'],
      ]),
    );
    expect(one('evenhand_database_up')).toBe(1);
    expect(one('evenhand_outbox_waiting_deliveries')).toBe(0);
  });

  it('see entries that wait for a seal, and how long', async () => {
    const hold = await database.owner.connect();
    try {
      // Nobody can take from the queue while another looks at all of it.
      await hold.query('BEGIN');
      await hold.query('LOCK TABLE journal_seal IN EXCLUSIVE MODE');
      // Identifiers begin with their time, and this one was made before all others.
      const entryId = '00000000-0000-7000-8000-000000000001';
      await database.owner.query(
        `INSERT INTO journal_entry (id, at, actor_kind, event, subject_kind, subject_id, changes)
         VALUES ($1, now() - interval '1 hour', 'system', 'test.made', 'test', $2, '{}')`,
        [entryId, entryId],
      );
      await until(async () => (await read()).one('evenhand_journal_unsealed_entries') >= 1);
      expect((await read()).one('evenhand_journal_unsealed_age_seconds')).toBeGreaterThan(3_599);
    } finally {
      await hold.query('ROLLBACK');
      hold.release();
    }
    await until(async () => (await read()).one('evenhand_journal_unsealed_entries') === 0);
    expect((await read()).one('evenhand_journal_unsealed_age_seconds')).toBe(0);
  });
});

describe('requests are counted', () => {
  it('by method, status and the pattern of their route, and never by an id or an address', async () => {
    const ids = Array.from({ length: 5 }, () => crypto.randomUUID());
    for (const id of ids) await fetch(`${running.url}/v1/tickets/${id}`, { headers: as('owner') });
    for (const id of ids) await fetch(`${running.url}/nowhere/${id}`);
    await fetch(`${running.url}/v1/company`);
    await until(async () => (await counted()).some(({ status }) => status === '401'));
    const requests = await counted();
    expect(requests).toContainEqual({
      method: 'GET',
      route: '/v1/tickets/:ticketId',
      status: '404',
      count: 5,
    });
    expect(requests).toContainEqual({ method: 'GET', route: 'none', status: '404', count: 5 });
    expect(requests).toContainEqual({
      method: 'GET',
      route: '/v1/company',
      status: '401',
      count: 1,
    });
    const { text } = await read();
    for (const id of ids) expect(text).not.toContain(id);
  });

  it('are in flight until they are answered, and gone when whoever asked is', async () => {
    const hold = await database.owner.connect();
    const { port } = new URL(running.url);
    const socket = connect(Number(port), '127.0.0.1');
    try {
      await hold.query('BEGIN');
      await hold.query('LOCK TABLE company IN ACCESS EXCLUSIVE MODE');
      socket.write(
        `GET /v1/company HTTP/1.1\r\nHost: here\r\nAuthorization: ${as('owner').authorization}\r\n\r\n`,
      );
      await until(async () => (await read()).one('evenhand_http_requests_in_flight') === 1);
      socket.destroy();
      await until(async () => (await read()).one('evenhand_http_requests_in_flight') === 0);
    } finally {
      socket.destroy();
      await hold.query('ROLLBACK');
      hold.release();
    }
    const gone = (await counted()).filter(({ status }) => status === 'gone');
    expect(gone).toEqual([{ method: 'GET', route: '/v1/company', status: 'gone', count: 1 }]);
  });

  it('but for streams, which would be as long as somebody listens', async () => {
    const listening = new AbortController();
    const { signal } = listening;
    const stream = await fetch(`${running.url}/v1/board/events`, { headers: as('owner'), signal });
    expect(stream.status).toBe(200);
    await until(async () => (await read()).one('evenhand_http_requests_in_flight') === 1);
    listening.abort();
    await until(async () => (await read()).one('evenhand_http_requests_in_flight') === 0);
    expect((await counted()).map(({ route }) => route)).not.toContain('/v1/board/events');
  });
});

describe('who may read them', () => {
  it('nobody at the public address, whoever asks', async () => {
    for (const headers of [{}, as('owner')]) {
      const answer = await fetch(`${running.url}/metrics`, { headers });
      expect(answer.status).toBe(404);
    }
  });

  it('whoever reaches their own, and nothing else is there', async () => {
    const own = (running.metricsUrl ?? '').replace(/\/metrics$/, '');
    expect(new URL(own).hostname).toBe('127.0.0.1');
    for (const address of ['/', '/healthz', '/v1/company', '/docs']) {
      expect((await fetch(`${own}${address}`)).status).toBe(404);
    }
    expect((await fetch(`${own}/metrics`, { method: 'POST' })).status).toBe(404);
  });
});

it('a look that fails takes its own figures away, and no others', async () => {
  const registry = createMetrics();
  let isAway = false;
  gaugesOf(registry, { one: 'Counts one.', other: 'Counts another.' }, async () => {
    if (isAway) throw new Error('away');
    return { one: 1, other: undefined };
  });
  gaugesOf(registry, { still: 'Is there still.' }, () => ({ still: 7 }));
  const samples = async () =>
    (await registry.metrics()).split('\n').filter((line) => /^(one|other|still) /.test(line));
  expect(await samples()).toEqual(['one 1', 'still 7']);
  isAway = true;
  expect(await samples()).toEqual(['still 7']);
  isAway = false;
  expect(await samples()).toEqual(['one 1', 'still 7']);
});
