import { check, type GuardCase, unique } from '../guard-case.ts';
import { linkRow } from '../life-rows.ts';
import { deliveries, deliveryIs, deliveryRow, deliveryStateRow, steps } from '../paper-rows.ts';
import { id, ids, type Row, type Statement, sql } from '../rows.ts';
import { quotes } from '../stock.ts';
import { signed, word } from './record-cases.ts';

const { waiting, sending, sent, dead } = deliveries;
const { take, handOver, arrive, giveUp, tryLater, tryAgain } = steps;
const issuedRow = (change: Row = {}) => deliveryRow({ cause: 'issued', ...change });

/** Guards of what goes out to whom. */
export const deliveryCases: GuardCase[] = [
  word('a paper goes by mail or as a text', 'delivery_channel_known', deliveryRow, {
    channel: ['pigeon', 'text'],
  }),
  word('a paper goes to somebody of the site', 'delivery_recipient_known', deliveryRow, {
    recipient: ['neighbor', 'occupant'],
  }),
  word('a delivery is in a language of papers', 'delivery_language_known', deliveryRow, {
    language: ['la', 'es'],
  }),
  word('a paper goes out with its act or because somebody asks', 'delivery_cause_known', unasked, {
    cause: ['whim', 'asked'],
  }),
  {
    title: 'what goes out with its act was asked for by nobody',
    guard: 'delivery_issued_by_nobody',
    sqlState: check,
    breaks: [issuedRow({ asked_by_id: ids.owner })],
    allows: [[issuedRow()], [deliveryRow()], [unasked()]],
  },
  {
    title: 'what is issued goes out by itself once to each person, and again whenever asked for',
    guard: 'delivery_issued_once',
    sqlState: unique,
    breaks: [issuedRow(), issuedRow({ id: id(1_416) })],
    allows: [[issuedRow(), deliveryRow({ id: id(1_416) }), deliveryRow({ id: id(1_417) })]],
  },
  signed('delivery_asked_by_fkey', deliveryRow, 'asked_by_id'),
  // ------------------------------------------------------------ how far it has come
  {
    title: 'a delivery is in a state of its life',
    guard: 'delivery_state_known',
    sqlState: check,
    breaks: [deliveryRow(), deliveryStateRow({ state: 'lost', reason: 'Lost.' })],
    allows: [[deliveryRow(), deliveryStateRow({ state: 'dead', reason: 'No address.' })]],
  },
  ...[
    { what: 'what waits has its hour', says: { state: 'waiting' } },
    { what: 'what is being sent is held until a moment', says: { state: 'sending' } },
    { what: 'what was sent was handed over', says: { state: 'sent', sent_to: 'w@example.com' } },
    { what: 'what is given up says why', says: { state: 'dead', reason: ' ' } },
  ].map(({ what, says }) => ({
    title: what,
    guard: 'delivery_state_whole',
    sqlState: check,
    breaks: [deliveryRow(), deliveryStateRow(says)],
    allows: [[deliveryRow(), deliveryStateRow()]],
  })),
  ...[
    {
      what: 'does not arrive before it is taken',
      breaks: [on(waiting, { ...handOver, ...arrive, next_at: null })],
    },
    {
      what: 'that is taken has one attempt more',
      breaks: [on(waiting, { ...take, attempts: 0 })],
    },
    {
      what: 'that was handed over is not taken again by a machine',
      breaks: [on(sending, handOver), on(sending, { attempts: 2, handed_over_at: null })],
    },
    {
      what: 'that was handed over does not wait again, for nobody knows whether it arrived',
      breaks: [on(sending, handOver), on(sending, tryLater)],
    },
    {
      what: 'that broke off after it was handed over keeps that moment',
      breaks: [on(sending, handOver), on(sending, { ...giveUp, handed_over_at: null })],
    },
    {
      what: 'arrives at an address',
      breaks: [on(sending, { ...handOver, sent_to: null }), on(sending, arrive)],
    },
    {
      what: 'that arrived keeps the address it went to until that is erased',
      breaks: [
        sql(`UPDATE delivery_state SET sent_to = 'x@example.com' WHERE delivery_id = $1`, [sent]),
      ],
    },
    { what: 'that arrived stays so', breaks: [on(sent, { ...giveUp, answer_code: null })] },
    {
      what: 'that was given up starts over only from its first attempt',
      breaks: [on(dead, { ...tryAgain, attempts: 1 })],
    },
    {
      what: 'never changes without a new version',
      breaks: [sql(`UPDATE delivery_state SET next_at = now() WHERE delivery_id = $1`, [waiting])],
    },
    {
      what: 'is never deleted',
      breaks: [sql('DELETE FROM delivery_state WHERE delivery_id = $1', [waiting])],
    },
  ].map(({ what, breaks }) => ({
    title: `a delivery ${what}`,
    guard: 'delivery_state_steps',
    sqlState: check,
    breaks,
    allows: [
      [on(waiting, take), on(waiting, handOver), on(waiting, arrive)],
      [on(sending, { attempts: 2 }), on(sending, tryLater)],
      [on(sending, handOver), on(sending, { ...tryLater, answer_code: 451 })],
      [on(sending, handOver), on(sending, giveUp)],
      [on(dead, tryAgain)],
      [sql(`UPDATE delivery_state SET sent_to = NULL WHERE delivery_id = $1`, [sent])],
    ],
  })),
  // ------------------------------------------------------------ links in mails
  ...[
    { what: 'and not by two', maker: { delivery_id: waiting } },
    { what: 'and not by nobody', maker: { created_by_id: null } },
  ].map(({ what, maker }) => ({
    title: `a link was made by our staff or for a mail, ${what}`,
    guard: 'quote_link_one_maker',
    sqlState: check,
    breaks: [linkRow(quotes.issued, maker)],
    allows: [[linkRow(quotes.issued)], [mailed()]],
  })),
];

function on(delivery: string, change: Row): Statement {
  return deliveryIs(delivery, change);
}

/** Asked for by a customer, at a page of ours. */
function unasked(change: Row = {}): Statement {
  return deliveryRow({ asked_by_id: null, ...change });
}

function mailed(change: Row = {}): Statement {
  return linkRow(quotes.issued, { created_by_id: null, delivery_id: waiting, ...change });
}
