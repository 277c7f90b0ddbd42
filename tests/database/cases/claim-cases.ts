import { check, foreignKey, type GuardCase, unique } from '../guard-case.ts';
import {
  claimIs,
  claimRow,
  claimStateRow,
  claimStepRow,
  jobs,
  partUseRow,
  settled,
} from '../life-rows.ts';
import { id, ids, type Row, type Statement, sql } from '../rows.ts';

const { agreed } = jobs;
const claim = id(1_205);

const credit: Row = { step: 'credited', amount_cents: 1_250, reference: 'CR-9' };
const refusal: Row = { step: 'refused', reason: 'Out of time.' };
const withdrawal: Row = { step: 'withdrawn', reason: 'Of another house.' };

/** On the company's calendar still the day before, for some hours. */
const laterWritten: Row = { recorded_at: '2026-07-18T03:00:00Z' };
const sentLater: Row = { ...laterWritten, happened_on: '2026-07-16' };

/** Guards of what a maker owes us for a part. */
export const claimCases: GuardCase[] = [
  {
    title: 'a claim is made for a part the customer had for nothing, not for one that was charged',
    guard: 'warranty_claim_of_free_part',
    sqlState: check,
    breaks: [partUseRow(agreed), claimRow()],
    allows: [[freeUse(), claimRow()]],
  },
  {
    title: 'a part is claimed once',
    guard: 'warranty_claim_part_use_key',
    sqlState: unique,
    breaks: [claimRow({ part_use_id: settled.partUse })],
    allows: [[freeUse(), claimRow()]],
  },
  {
    title: 'whoever opened a claim is a member of staff',
    guard: 'warranty_claim_opened_by_fkey',
    sqlState: foreignKey,
    breaks: [freeUse(), claimRow({ opened_by_id: ids.nobody })],
    allows: [[freeUse(), claimRow({ opened_by_id: ids.technician })]],
  },
  {
    title: 'a claim begins open',
    guard: 'warranty_claim_state_moves',
    sqlState: check,
    breaks: [freeUse(), claimRow(), claimStateRow({ state: 'sent' })],
    allows: [opened()],
  },
  {
    title: 'a claim is in a state we know',
    guard: 'warranty_claim_state_known',
    behind: ['warranty_claim_state_moves'],
    sqlState: check,
    breaks: [freeUse(), claimRow(), claimStateRow({ state: 'lost' })],
    allows: [opened()],
  },
  ...[
    { how: 'straight to a credit', rows: [claimStepRow(credit), claimIs(claim, 'credited')] },
    { how: 'straight to a refusal', rows: [claimStepRow(refusal), claimIs(claim, 'refused')] },
  ].map(({ how, rows }) => ({
    title: `a claim does not go ${how}; it is sent first`,
    guard: 'warranty_claim_state_moves',
    behind: ['warranty_claim_step_follows'],
    sqlState: check,
    breaks: [...opened(), ...rows],
    allows: [[...sent(), ...rows]],
  })),
  {
    title: 'a claim that was sent is not withdrawn: its maker answers it',
    guard: 'warranty_claim_state_moves',
    behind: ['warranty_claim_step_follows'],
    sqlState: check,
    breaks: [...sent(), claimStepRow(withdrawal), claimIs(claim, 'withdrawn')],
    allows: [withdrawn()],
  },
  {
    title: 'a claim that was withdrawn is not sent after all',
    guard: 'warranty_claim_step_follows',
    sqlState: check,
    breaks: [...withdrawn(), claimStepRow()],
    allows: [withdrawn(), sent()],
  },
  {
    title: 'a claim is not withdrawn without its reason',
    guard: 'warranty_claim_step_whole',
    sqlState: check,
    breaks: withdrawn({ reason: ' ' }),
    allows: [withdrawn()],
  },
  {
    title: 'a claim is not sent without its registration on record',
    guard: 'warranty_claim_state_moves',
    sqlState: check,
    breaks: [...opened(), claimIs(claim, 'sent')],
    allows: [sent()],
  },
  {
    title: 'each step of a claim counts its version up by one',
    guard: 'warranty_claim_state_moves',
    sqlState: check,
    breaks: [
      ...[...opened(), claimStepRow()],
      sql(`UPDATE warranty_claim_state SET state = 'sent' WHERE claim_id = $1`, [claim]),
    ],
    allows: [sent()],
  },
  {
    title: 'the state of a claim is never deleted',
    guard: 'warranty_claim_state_moves',
    sqlState: check,
    breaks: [sql('DELETE FROM warranty_claim_state')],
    allows: [opened()],
  },
  {
    title: 'a claim takes steps we know',
    guard: 'warranty_claim_step_known',
    behind: ['warranty_claim_step_follows', 'warranty_claim_step_takes_effect'],
    sqlState: check,
    breaks: [...sent(), claimStepRow({ step: 'forgotten', reason: 'Nobody looked.' })],
    allows: [[...sent(), claimStepRow(refusal), claimIs(claim, 'refused')]],
  },
  ...[
    { registration: null },
    { registration: ' ' },
    { old_part: null },
    { old_part: 'lost' },
    { amount_cents: 100 },
  ].map((change) => ({
    title: `what is sent has a registration and says where the old part is: not ${JSON.stringify(change)}`,
    guard: 'warranty_claim_step_whole',
    sqlState: check,
    breaks: sent(change),
    allows: ['returned', 'kept', 'scrapped'].map((old_part) => sent({ old_part })),
  })),
  ...[
    { ...credit, amount_cents: null },
    { ...credit, amount_cents: 0 },
    { ...credit, amount_cents: -1 },
    { ...credit, reference: null },
    { ...credit, reference: ' ' },
    { ...refusal, reason: null },
    { ...refusal, reason: '' },
    { ...refusal, amount_cents: 1 },
  ].map((change) => ({
    title: `a credit has an amount and its paper, a refusal its reason: not ${JSON.stringify(change)}`,
    guard: 'warranty_claim_step_whole',
    sqlState: check,
    breaks: answered(change),
    allows: [answered(credit), answered(refusal)],
  })),
  {
    title: 'a claim that was refused is not credited, nor the other way round',
    guard: 'warranty_claim_step_follows',
    sqlState: check,
    breaks: [...answered(refusal), claimStepRow(credit)],
    allows: [answered(credit), answered(refusal)],
    secondLine: { sqlState: check, constraint: 'warranty_claim_step_takes_effect' },
  },
  {
    title: 'no answer comes to a claim that was not sent',
    guard: 'warranty_claim_step_follows',
    sqlState: check,
    breaks: [...opened(), claimStepRow(credit)],
    allows: [answered(credit)],
    secondLine: { sqlState: check, constraint: 'warranty_claim_step_takes_effect' },
  },
  ...[
    { what: 'sending', rows: [...opened(), claimStepRow()] },
    { what: 'a credit', rows: [...sent(), claimStepRow(credit)] },
    { what: 'a refusal', rows: [...sent(), claimStepRow(refusal)] },
  ].map(({ what, rows }) => ({
    title: `${what} on record has moved the claim by commit`,
    guard: 'warranty_claim_step_takes_effect',
    sqlState: check,
    breaks: rows,
    allows: [sent(), answered(credit), answered(refusal)],
  })),
  ...[
    { what: 'sent before its part went in', rows: sent({ happened_on: '2026-07-14' }) },
    {
      what: 'sent after that was written down',
      rows: sent({ ...laterWritten, happened_on: '2026-07-18' }),
    },
    {
      what: 'credited before it was sent',
      rows: answered({ ...credit, ...laterWritten, happened_on: '2026-07-15' }, sentLater),
    },
    {
      what: 'refused before it was sent',
      rows: answered({ ...refusal, ...laterWritten, happened_on: '2026-07-15' }, sentLater),
    },
  ].map(({ what, rows }) => ({
    title: `a claim is not ${what}`,
    guard: 'warranty_claim_step_in_order',
    sqlState: check,
    breaks: rows,
    allows: [
      sent(),
      sent(sentLater),
      answered({ ...credit, ...laterWritten, happened_on: '2026-07-16' }, sentLater),
      answered({ ...refusal, ...laterWritten, happened_on: '2026-07-17' }, sentLater),
    ],
  })),
  {
    title: 'whoever recorded a step is a member of staff',
    guard: 'warranty_claim_step_recorded_by_fkey',
    sqlState: foreignKey,
    breaks: sent({ recorded_by_id: ids.nobody }),
    allows: [sent({ recorded_by_id: ids.technician })],
  },
];

function freeUse(): Statement {
  return partUseRow(agreed, { part_code: 'FUSE-3' });
}

function opened(): Statement[] {
  return [freeUse(), claimRow(), claimStateRow()];
}

function sent(change: Row = {}): Statement[] {
  return [...opened(), claimStepRow({ ...change }), claimIs(claim, 'sent')];
}

function withdrawn(change: Row = {}): Statement[] {
  return [...opened(), claimStepRow({ ...withdrawal, ...change }), claimIs(claim, 'withdrawn')];
}

function answered(change: Row, sending: Row = {}): Statement[] {
  return [...sent(sending), claimStepRow(change), claimIs(claim, String(change['step']))];
}
