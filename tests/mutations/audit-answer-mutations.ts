import type { Mutation } from './mutation.ts';

const evenings = 'tests/audits/evenings.test.ts';
const letters = 'tests/delivery/letters-of-corrections.test.ts';

/** Mistakes between the rules of the audit and the people: days, runs, answers and letters. */
export const auditAnswerMutations: readonly Mutation[] = [
  {
    breaks: 'a ticket is judged by a tax rule that ended meanwhile',
    file: 'src/audits/known-tax-rules.ts',
    find: 'kept.get(jurisdiction)?.print !== print',
    replace: '!kept.has(jurisdiction) || print.length === 0',
    caughtBy: {
      file: 'tests/audits/load-jobs.test.ts',
      name: 'are those of now, whatever was read of their jurisdiction before',
    },
  },
  {
    breaks: 'a yes late in the evening is of the next day',
    file: 'src/audits/read-documents.ts',
    find: '(a.accepted_at AT TIME ZONE c.time_zone)::date::text AS "acceptedOn"',
    replace: 'a.accepted_at::date::text AS "acceptedOn"',
    caughtBy: { file: evenings, name: 'its part is still warranted on the last day' },
    database: true,
  },
  {
    breaks: 'what was found late in the evening was found on the next day',
    file: 'src/audits/read-findings.ts',
    find: '(f.found_at AT TIME ZONE c.time_zone)::date::text AS "foundOn"',
    replace: 'f.found_at::date::text AS "foundOn"',
    caughtBy: { file: evenings, name: 'the last day on which our own work is free' },
    database: true,
  },
  {
    breaks: 'the letter of a correction reaches nobody',
    file: 'src/delivery/said-of.ts',
    find: "paragraphs: written?.split('\\n\\n') ?? [",
    replace: 'paragraphs: [',
    caughtBy: { file: letters, name: 'goes out with the letter' },
    database: true,
  },
  {
    breaks: 'somebody gets a letter in a language that the rest of the mail is not in',
    file: 'src/delivery/deliver-one.ts',
    find: 'written?.language === source.paper.paper.language ? written.text : undefined',
    replace: 'written?.text',
    caughtBy: { file: letters, name: 'to somebody who reads another language' },
    database: true,
  },
  {
    breaks: 'one payer reads what goes back to another',
    file: 'src/audits/mail-of-memo.ts',
    find: ' || otherPaperIds.length + 1 < memos.length',
    replace: '',
    caughtBy: { file: 'tests/audits/mail-of-memo.test.ts', name: 'tells one payer nothing' },
    database: true,
  },
  {
    breaks: 'a payer gets the mail of each memo of one answer beside the one that holds them all',
    file: 'src/invoices/credit-corrections.ts',
    find: 'const isInOtherMail = told.has(payerId);',
    replace: 'const isInOtherMail = false;',
    caughtBy: { file: letters, name: 'goes out in one mail' },
    database: true,
  },
  {
    breaks: 'a tax that was too much is given back as if its charges had been',
    file: 'src/invoices/credit-corrections.ts',
    find: 'creditDocument(document, each.credits, each.taxCents)',
    replace: 'creditDocument(document, each.credits)',
    caughtBy: { file: 'tests/audits/answers.test.ts', name: 'gives back that tax and no charge' },
    database: true,
  },
  {
    breaks: 'a run judges the last ticket of each piece once more',
    file: 'src/audits/continue-run.ts',
    find: 'id > $1)',
    replace: 'id >= $1)',
    caughtBy: { file: 'tests/audits/killed-run.test.ts', name: 'every ticket is judged once' },
    database: true,
  },
  {
    breaks: 'the rules take away a flag that the owner has answered',
    file: 'src/audits/judge-tickets.ts',
    find: "may(flag, 'lapse') && !holding.has(flag)",
    replace: '!holding.has(flag)',
    caughtBy: { file: 'tests/audits/answers.test.ts', name: 'gives back to the cent what it says' },
    database: true,
  },
  {
    breaks: 'what is left of a flag that was dismissed is raised anew',
    file: 'src/auditing/answers-for.ts',
    find: 'if (found.overCents > dismissed.overCents) return false;',
    replace: 'if (found.overCents > 0) return false;',
    caughtBy: {
      file: 'tests/audits/judging.test.ts',
      name: 'answers for the same with less left of it, and for no more than that',
    },
    database: true,
  },
  {
    breaks: 'a flag that was dismissed answers for more than it said',
    file: 'src/auditing/answers-for.ts',
    find: 'if (found.overCents > dismissed.overCents) return false;',
    replace: '',
    caughtBy: {
      file: 'tests/audits/judging.test.ts',
      name: 'answers for the same with less left of it, and for no more than that',
    },
    database: true,
  },
];
