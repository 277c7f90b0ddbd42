import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  callbackRow,
  closedRows,
  closingRow,
  committed,
  jobOf,
  jobs,
  ticketIs,
  uncuredRow,
  visitedRows,
} from '../life-rows.ts';
import { id, ids, type Row, type Statement } from '../rows.ts';

const { agreed, closed, owed, settled } = jobs;

/** Guards of closing a ticket and of reopening it. */
export const closingCases: GuardCase[] = [
  {
    title: 'whether the complaint is gone is said',
    guard: 'ticket_closing_complaint_known',
    sqlState: check,
    breaks: closing({ complaint_gone: 'maybe' }),
    allows: ['yes', 'no', 'not_tried'].map((complaint_gone) => closing({ complaint_gone })),
  },
  {
    title: 'what did not cure was mended on the ticket',
    guard: 'closing_uncured_was_mended',
    sqlState: check,
    breaks: [uncuredRow(closed, { finding_id: agreed.part })],
    allows: [[uncuredRow(closed)]],
  },
  {
    title: 'closings count from one',
    guard: 'ticket_closing_sequence_positive',
    behind: ['ticket_closing_while_open'],
    sqlState: check,
    breaks: [closingRow(agreed, { sequence: 0 }), ticketIs(agreed, 'closed')],
    allows: [closedRows(agreed)],
  },
  ...[2, 0].map((sequence) => ({
    title: `the first closing of a ticket is number one, not ${sequence}`,
    guard: 'ticket_closing_while_open',
    says: 'ticket_closing_sequence_without_gap',
    behind: ['ticket_closing_sequence_positive'],
    sqlState: check,
    breaks: closing({ sequence }),
    allows: [closedRows(agreed)],
  })),
  {
    title: 'the second closing is number two, not one again',
    guard: 'ticket_closing_sequence_key',
    behind: ['ticket_closing_while_open'],
    sqlState: unique,
    breaks: againClosed(1),
    allows: [againClosed(2)],
  },
  {
    title: 'the second closing is number two, not three',
    guard: 'ticket_closing_while_open',
    says: 'ticket_closing_sequence_without_gap',
    sqlState: check,
    breaks: againClosed(3),
    allows: [againClosed(2)],
  },
  ...['scheduled', 'in_progress', 'cancelled', 'closed'].map((state) => ({
    title: `a ticket that is ${state} is not closed`,
    guard: 'ticket_closing_while_open',
    behind: ['ticket_dropped_without_work'],
    sqlState: check,
    breaks: [ticketIs(agreed, state), closingRow(agreed), ticketIs(agreed, 'closed')],
    allows: ['work_complete', 'waiting_for_answer', 'waiting_for_part', 'new'].map((ready) => [
      ticketIs(agreed, ready),
      closingRow(agreed),
      ticketIs(agreed, 'closed'),
    ]),
  })),
  {
    title: 'a new ticket where nobody was is not closed',
    guard: 'ticket_closing_while_open',
    sqlState: check,
    breaks: [
      ...visitedRows(jobOf(313), { state: 'no_access' }),
      ...[ticketIs(jobOf(313), 'new'), closingRow(jobOf(313)), ticketIs(jobOf(313), 'closed')],
    ],
    allows: [
      [
        ...visitedRows(jobOf(313)),
        ...[ticketIs(jobOf(313), 'new'), closingRow(jobOf(313)), ticketIs(jobOf(313), 'closed')],
      ],
    ],
  },
  {
    title: 'a closing on record has closed its ticket by commit',
    guard: 'ticket_closing_takes_effect',
    sqlState: check,
    breaks: [ticketIs(agreed, 'work_complete'), closingRow(agreed)],
    allows: [closedRows(agreed)],
  },
  {
    title: 'whoever closed a ticket is a member of staff',
    guard: 'ticket_closing_closed_by_fkey',
    sqlState: foreignKey,
    breaks: closing({ closed_by_id: ids.nobody }),
    allows: [closing({ closed_by_id: ids.owner })],
  },

  // ------------------------------------------------------------ callbacks
  ...[
    { when: 'before its closing', reopened_at: '2026-07-15T19:29:59Z' },
    { when: 'more than thirty local days after it', reopened_at: '2026-08-15T20:30:00Z' },
  ].map(({ when, reopened_at }) => ({
    title: `a ticket is not reopened ${when}`,
    guard: 'ticket_callback_in_time',
    sqlState: check,
    breaks: reopened({ reopened_at }),
    allows: [
      reopened({ reopened_at: '2026-07-15T19:30:00Z' }),
      reopened({ reopened_at: '2026-08-15T20:29:59Z' }),
    ],
  })),
  {
    title: 'what is reopened is a closing of the ticket itself',
    guard: 'ticket_callback_in_time',
    sqlState: check,
    breaks: reopened({ closing_id: owed.closing }),
    allows: [reopened({})],
  },
  {
    title: 'what is reopened is the last closing of the ticket',
    guard: 'ticket_callback_in_time',
    behind: ['ticket_callback_closing_key'],
    sqlState: check,
    breaks: [...againClosed(2), ...committed, callbackRow(settled), ticketIs(settled, 'new')],
    allows: [
      [
        ...[...againClosed(2), ...committed],
        ...[callbackRow(settled, { closing_id: id(1_298) }), ticketIs(settled, 'new')],
      ],
    ],
  },
  {
    title: 'a closing is reopened once',
    guard: 'ticket_callback_closing_key',
    sqlState: unique,
    breaks: [callbackRow(settled)],
    allows: [reopened({})],
  },
  {
    title: 'a callback on record has reopened its ticket by commit',
    guard: 'ticket_callback_takes_effect',
    sqlState: check,
    breaks: [callbackRow(closed)],
    allows: [reopened({})],
  },
  {
    title: 'whoever reopened a ticket is a member of staff',
    guard: 'ticket_callback_reopened_by_fkey',
    sqlState: foreignKey,
    breaks: reopened({ reopened_by_id: ids.nobody }),
    allows: [reopened({ reopened_by_id: ids.technician })],
  },
];

function closing(change: Row): Statement[] {
  return [
    ticketIs(agreed, 'work_complete'),
    closingRow(agreed, change),
    ticketIs(agreed, 'closed'),
  ];
}

function againClosed(sequence: number): Statement[] {
  return [
    ticketIs(settled, 'work_complete'),
    closingRow(settled, { id: id(1_298), sequence }),
    ticketIs(settled, 'closed'),
  ];
}

function reopened(change: Row): Statement[] {
  return [callbackRow(closed, change), ticketIs(closed, 'new')];
}
