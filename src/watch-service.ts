import type pg from 'pg';
import type { Registry } from 'prom-client';
import { auditLag } from './audits/index.ts';
import { sealLag } from './journal/index.ts';
import { outboxLag } from './outbox/index.ts';
import type { Clock } from './platform/clock.ts';
import { gaugesOf } from './platform/metrics/gauges-of.ts';
import type { Press } from './press/index.ts';

/** What is looked at. */
export interface Watched {
  /** The connections that do the work. */
  pool: pg.Pool;
  /** Connections apart from those, which answer also when all of them are taken. */
  watch: pg.Pool;
  press: Press;
  clock: Clock;
}

/** Tells how the whole service is, beside what each request and Node itself tell. */
export function watchService(registry: Registry, { pool, watch, press, clock }: Watched): void {
  gaugesOf(
    registry,
    {
      evenhand_database_connections_in_use: 'Connections of this process that work.',
      evenhand_database_connections_idle: 'Connections of this process that wait for work.',
      evenhand_database_requests_waiting: 'Work of this process that waits for a connection.',
    },
    () => ({
      evenhand_database_connections_in_use: pool.totalCount - pool.idleCount,
      evenhand_database_connections_idle: pool.idleCount,
      evenhand_database_requests_waiting: pool.waitingCount,
    }),
  );
  gaugesOf(
    registry,
    {
      evenhand_press_papers_drawing: 'Papers that are being drawn.',
      evenhand_press_papers_waiting: 'Papers that wait to be drawn.',
    },
    () => ({
      evenhand_press_papers_drawing: press.load().drawing,
      evenhand_press_papers_waiting: press.load().waiting,
    }),
  );
  gaugesOf(
    registry,
    { evenhand_database_up: '1 when the database answers, else 0.' },
    async () => ({
      evenhand_database_up: await watch.query('SELECT').then(
        () => 1,
        () => 0,
      ),
    }),
  );
  watchBacklogs(registry, watch, clock);
}

/** What all processes on one database share; each of them tells the same. */
function watchBacklogs(registry: Registry, watch: pg.Pool, clock: Clock): void {
  gaugesOf(
    registry,
    {
      evenhand_journal_unsealed_entries: 'Journal entries that have no seal yet, at most 100000.',
      evenhand_journal_unsealed_age_seconds: 'Age of the oldest entry without a seal; 0 for none.',
      evenhand_outbox_waiting_deliveries: 'Deliveries that wait for their time or their turn.',
      evenhand_outbox_sending_deliveries: 'Deliveries that a worker holds.',
      evenhand_outbox_overdue_seconds:
        'How long the delivery due longest has been due; 0 for none.',
      evenhand_audit_unread_entries: 'Sealed entries that the audit has not read.',
      evenhand_audit_run_done_tickets: 'Tickets judged by the run under way; 0 when none is.',
      evenhand_audit_run_total_tickets: 'Tickets of the run under way; 0 when none is.',
    },
    async () => {
      const now = clock.now();
      const seals = await sealLag(watch, now);
      const outbox = await outboxLag(watch, now);
      const audit = await auditLag(watch);
      return {
        evenhand_journal_unsealed_entries: seals.unsealed,
        evenhand_journal_unsealed_age_seconds: seals.oldestSeconds,
        evenhand_outbox_waiting_deliveries: outbox.waiting,
        evenhand_outbox_sending_deliveries: outbox.sending,
        evenhand_outbox_overdue_seconds: outbox.overdueSeconds,
        evenhand_audit_unread_entries: audit.unreadEntries,
        evenhand_audit_run_done_tickets: audit.runDone,
        evenhand_audit_run_total_tickets: audit.runTotal,
      };
    },
  );
}
