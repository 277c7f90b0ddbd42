import type { Mutation } from './mutation.ts';

const file = 'tests/running/replica.test.ts';
const catchUp = 'src/platform/reports/catch-up.ts';
const openReports = 'src/platform/reports/open-reports.ts';

/** Mistakes in where reports are read, and in what they may lack. */
export const replicaMutations: readonly Mutation[] = [
  {
    breaks: 'a report lacks what the replica has not had yet',
    file: catchUp,
    find: 'if (standing.hasMark) return;',
    replace: 'return;',
    caughtBy: { file, name: 'that lacks the last change' },
    database: true,
  },
  {
    breaks: 'reports are read from the former replica of another main server',
    file: catchUp,
    find: 'if (!isOnTimeline)',
    replace: 'if (!isReplica)',
    caughtBy: { file, name: 'that follows its former main one' },
    database: true,
  },
  {
    breaks: 'a report that a replica cancels is an error to whoever asked',
    file: openReports,
    find: "log.warn({ err: error }, 'the replica gave up a report; the main database is asked for it');",
    replace: 'throw error;',
    caughtBy: { file, name: 'that the replica cancels, because what it reads is cleared away' },
    database: true,
  },
  {
    breaks: 'a report that is refused is worked out twice',
    file: openReports,
    find: 'if (error instanceof ProblemError) throw error;',
    replace: '',
    caughtBy: { file, name: 'that is refused is not asked for again' },
    database: true,
  },
];
