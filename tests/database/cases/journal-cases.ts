import { check, foreignKey, type GuardCase } from '../guard-case.ts';
import { entryRow, ids, sealRow } from '../rows.ts';

/** Guards of the journal and its chain of seals. */
export const journalCases: GuardCase[] = [
  ...['{"after":', '[]', '"text"'].map((changes) => ({
    title: `what changed is a JSON object, not ${changes}`,
    guard: 'journal_entry_changes_are_json',
    sqlState: check,
    breaks: [entryRow({ changes })],
    allows: [[entryRow({ changes: '{"after":{"number":1001}}' })]],
  })),
  {
    title: 'a change was made by staff, a customer or the system',
    guard: 'journal_entry_actor_known',
    sqlState: check,
    breaks: [entryRow({ actor_kind: 'nobody' })],
    allows: [[entryRow({ actor_kind: 'customer' })]],
  },
  {
    title: 'seals count from one',
    guard: 'journal_seal_position_positive',
    sqlState: check,
    breaks: [sealRow({ position: 0 })],
    allows: [[sealRow({ position: 2 })]],
  },
  {
    title: 'a seal continues the chain without a gap',
    guard: 'journal_seal_without_gap',
    sqlState: check,
    breaks: [sealRow({ position: 3 })],
    allows: [[sealRow({ position: 2 })]],
  },
  {
    title: 'only an entry that exists is sealed',
    guard: 'journal_seal_entry_exists',
    sqlState: foreignKey,
    breaks: [sealRow({ entry_id: ids.nobody })],
    allows: [[sealRow()]],
  },
];
