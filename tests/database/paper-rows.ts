import type { Job } from './life-rows.ts';
import { paperText } from './quote-rows.ts';
import { id, ids, insert, type Row, type Statement, sha256Of, sql } from './rows.ts';

/** The papers of the stock. */
export const papers = { quote: id(1_401) } as const;

/** The paper of the quote that is issued, unless a change says otherwise. */
export function paperRow(change: Row = {}): Statement {
  return insert('paper', {
    id: id(1_402),
    kind: 'quote',
    number: '302',
    ticket_id: ids.ticket,
    issued_at: '2026-07-15T19:10:00Z',
    ...change,
  });
}

export function paperFileRow(change: Row = {}): Statement {
  return insert('paper_file', {
    paper_id: papers.quote,
    language: 'en',
    renderer: 'paper-1',
    ...change,
  });
}

export function paperKeyRow(change: Row = {}): Statement {
  return insert('paper_key', {
    kid: 'second',
    public_key: '{"kid":"second"}',
    first_used_at: '2026-07-15T19:10:00Z',
    ...change,
  });
}

export function workRecordRow(job: Job, change: Row = {}): Statement {
  return insert('work_record', {
    closing_id: job.closing,
    paper: paperText,
    content_hash: sha256Of(paperText),
    ...change,
  });
}

/** The deliveries of the stock by how far they are. */
export const deliveries = {
  waiting: id(1_411),
  sending: id(1_412),
  sent: id(1_413),
  dead: id(1_414),
} as const;

const now = '2026-07-15T19:30:00Z';
const soon = '2026-07-15T19:31:00Z';

/** What was asked for of the paper of the stock, unless a change says otherwise. */
export function deliveryRow(change: Row = {}): Statement {
  return insert('delivery', {
    id: id(1_415),
    paper_id: papers.quote,
    channel: 'mail',
    customer_id: ids.customer,
    recipient: 'approver',
    language: 'en',
    cause: 'asked',
    asked_by_id: change['cause'] === 'issued' ? null : ids.owner,
    created_at: now,
    ...change,
  });
}

export function deliveryStateRow(change: Row = {}): Statement {
  return insert('delivery_state', {
    delivery_id: id(1_415),
    ...(change['state'] === undefined && { next_at: now }),
    changed_at: now,
    ...change,
  });
}

/** Moves a delivery on, as the worker does. */
export function deliveryIs(delivery: string, change: Row): Statement {
  const columns = Object.keys(change);
  return sql(
    `UPDATE delivery_state SET version = version + 1,
       ${columns.map((column, at) => `${column} = $${at + 2}`).join(', ')} WHERE delivery_id = $1`,
    [delivery, ...Object.values(change)],
  );
}

/** What is written down when a worker takes a delivery, hands it over, has an answer or none. */
export const steps = {
  take: { state: 'sending', attempts: 1, next_at: null, lease_until: soon },
  handOver: {
    handed_over_at: soon,
    sent_to: 'winifred@example.com',
    message_id: '<1@example.com>',
  },
  arrive: { state: 'sent', lease_until: null, answer_code: 250 },
  giveUp: { state: 'dead', lease_until: null, reason: 'No such mailbox.' },
  tryLater: { state: 'waiting', lease_until: null, handed_over_at: null, next_at: soon },
  tryAgain: { state: 'waiting', attempts: 0, reason: null, handed_over_at: null, next_at: soon },
} as const;

/** A delivery in each of its states. */
export function deliveryRows(): Statement[] {
  const { take, handOver, arrive, giveUp } = steps;
  return [
    ...Object.values(deliveries).flatMap((delivery) => [
      deliveryRow({ id: delivery }),
      deliveryStateRow({ delivery_id: delivery }),
    ]),
    deliveryIs(deliveries.sending, take),
    deliveryIs(deliveries.sent, take),
    deliveryIs(deliveries.sent, handOver),
    deliveryIs(deliveries.sent, arrive),
    deliveryIs(deliveries.dead, take),
    deliveryIs(deliveries.dead, giveUp),
  ];
}
