export { appendJournal, type Doer } from './append-journal.ts';
export { type Authorship, type Change, entryOf, type JournalEntryRow } from './entry-of.ts';
export type { JournalEvent } from './events.ts';
export { journalEvents } from './events.ts';
export { journalRoutes } from './routes.ts';
export { type EntryTexts, genesisHash, sealHash } from './seal-hash.ts';
export { sealJournal } from './seal-journal.ts';
export { type Sealer, startSealer } from './start-sealer.ts';
export { type JournalReport, type Tip, verifyJournal } from './verify-journal.ts';
