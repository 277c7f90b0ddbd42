import {
  type Change,
  type EntryTexts,
  entryOf,
  genesisHash,
  type JournalEntryRow,
  type JournalEvent,
  sealHash,
} from '../../src/journal/index.ts';
import type { Batch } from './batch.ts';
import type { CompanyPlan, Member } from './company-plan.ts';
import type { History } from './history.ts';
import { type MakeId, makeIds } from './make-ids.ts';
import { type Random, randomFor } from './random.ts';
import type { WrongPicker } from './wrongs/pick-wrong.ts';
import type { Truth } from './wrongs/truth.ts';

/** What writes one ticket: its chance, its identifiers, its rows, its journal. */
export interface Pen {
  plan: CompanyPlan;
  random: Random;
  makeId: MakeId;
  add: Batch['add'];
  addChange: Batch['addChange'];
  steps: Batch['steps'];
  changeSteps: Batch['changeSteps'];
  ticketSteps: Batch['ticketSteps'];
  invoiceSteps: Batch['invoiceSteps'];
  history: History;
  next(number: keyof Numbers): number;
  /** Whether this ticket gets a wrong, and which of those that fit it. */
  wrongs: WrongPicker;
  /** Says what was written wrongly on purpose. */
  tell(truth: Truth): void;
  /** Notes a change for the journal; nothing when the company is made without one. */
  note<E extends JournalEvent>(at: Date, by: Member | undefined, change: Change<E>): void;
}

/** The end of the sealed chain so far. */
export interface Chain {
  position: bigint;
  hash: string;
}

export function newChain(): Chain {
  return { position: 0n, hash: genesisHash };
}

/** The next numbers of the sequences that run through the whole company. */
export interface Numbers {
  quote: number;
  invoice: number;
  receipt: number;
  memo: number;
}

/** What runs through a whole company, from batch to batch. */
export interface Thread {
  chain: Chain;
  numbers: Numbers;
  history: History;
  wrongs: WrongPicker;
}

/** Lets `write` write one ticket, and seals what it noted in the order of time. */
export function withPen(
  plan: CompanyPlan,
  batch: Batch,
  { chain, numbers, history, wrongs }: Thread,
  index: number,
  write: (pen: Pen) => void,
): void {
  const random = randomFor(plan.seed, 'ticket', index);
  const makeId = makeIds(random);
  // Of its own, so that a company is the same with and without its journal.
  const makeEntryId = makeIds(randomFor(plan.seed, 'journal', index));
  const entries: JournalEntryRow[] = [];
  write({
    plan,
    random,
    makeId,
    add: batch.add,
    addChange: batch.addChange,
    steps: batch.steps,
    changeSteps: batch.changeSteps,
    ticketSteps: batch.ticketSteps,
    invoiceSteps: batch.invoiceSteps,
    history,
    wrongs,
    next: (number) => {
      numbers[number] += 1;
      return numbers[number] - 1;
    },
    tell: (truth) => {
      wrongs.count(truth);
      batch.truths.push(truth);
    },
    note: (now, by, change) => {
      if (plan.journal) entries.push(entryOf(authorship(now, by, makeEntryId), change));
    },
  });
  for (const entry of entries.sort((a, b) => a.at.getTime() - b.at.getTime())) {
    seal(batch, chain, entry);
  }
}

function authorship(now: Date, by: Member | undefined, makeId: MakeId) {
  return {
    now,
    newId: () => makeId(now),
    ...(by && { actor: { kind: 'staff' as const, id: by.id, role: by.role } }),
  };
}

function seal(batch: Batch, chain: Chain, entry: JournalEntryRow): void {
  chain.position += 1n;
  chain.hash = sealHash(chain.hash, chain.position, textsOf(entry));
  batch.add('journal_entry', { ...entry });
  batch.add('journal_seal', {
    position: String(chain.position),
    entryId: entry.id,
    hash: chain.hash,
  });
}

/** The texts the server gives for the columns: an instant has microseconds there. */
function textsOf(entry: JournalEntryRow): EntryTexts {
  return {
    id: entry.id,
    at: entry.at.toISOString().replace('Z', '000Z'),
    actor_kind: entry.actorKind,
    actor_id: entry.actorId,
    actor_role: entry.actorRole,
    request_id: entry.requestId,
    event: entry.event,
    subject_kind: entry.subjectKind,
    subject_id: entry.subjectId,
    changes: entry.changes,
  };
}
