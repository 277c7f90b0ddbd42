import type { Mutation } from './mutation.ts';

const script = 'tests/phone-script/phone-1.test.ts';
const dialogue = 'tests/phone-checks/dialogue.test.ts';
const atOnce = 'tests/phone-checks/at-once.test.ts';

/** Mistakes in what is asked on the phone, and in what becomes of it. */
export const phoneMutations: readonly Mutation[] = [
  {
    breaks: 'a caller who cannot tell of gas is asked to go to the breaker',
    file: 'src/phone-script/phone-1/danger-questions.ts',
    find: ".map(({ code }) => ({ question: code, is: ['no'] })),",
    replace: ".map(({ code }) => ({ question: code, is: ['no', 'unknown'] })),",
    caughtBy: { file: script, name: 'where nobody can tell of' },
  },
  {
    breaks: 'a breaker that tripped a second time is gone on with',
    file: 'src/phone-script/phone-1/breaker-questions.ts',
    find: "{ is: ['trips'], ending: 'breaker_stays_off' },",
    replace: '',
    caughtBy: { file: script, name: 'for a reset before every danger was denied' },
  },
  {
    breaks: 'a breaker that was reset by phone before is reset once more',
    file: 'src/phone-script/phone-1/breaker-questions.ts',
    find: "{ all: [{ question: 'breaker', is: ['tripped'] }, { not: wasReset }] }",
    replace: "{ question: 'breaker', is: ['tripped'] }",
    caughtBy: { file: script, name: 'the breaker stays off where it was reset' },
  },
  {
    breaks: 'a breaker box is touched before it is looked at',
    file: 'src/phone-script/phone-1/breaker-questions.ts',
    find: "stops: [{ is: ['yes'], danger: 'breaker_box' }],",
    replace: '',
    caughtBy: { file: script, name: 'the breaker box is looked at before it is touched' },
  },
  {
    breaks: 'whoever is old and hot is left where they are',
    file: 'src/phone-script/phone-1/people-questions.ts',
    find: 'atLeast: 90 }',
    replace: 'atLeast: 100 }',
    caughtBy: { file: script, name: 'is asked next' },
  },
  {
    breaks: 'of two answers to one question the first counts for ever',
    file: 'src/phone-script/next-step.ts',
    find: 'new Map(answers.map((given) =>',
    replace: 'new Map([...answers].reverse().map((given) =>',
    caughtBy: { file: dialogue, name: 'that is corrected stays on record' },
    database: true,
  },
  {
    breaks: 'of two who answer at once both are taken',
    file: 'src/phone-checks/latest-check.ts',
    find: 'act.mustMatch(checkTag(check));',
    replace: '',
    caughtBy: { file: dialogue, name: 'of two who answer at once is taken once' },
    database: true,
  },
  {
    breaks: 'the next ticket of a site asks for a second reset',
    file: 'src/phone-checks/known-at.ts',
    find: "['reset_before', await wasResetLately(act, siteId)],",
    replace: "['reset_before', false],",
    caughtBy: { file: dialogue, name: 'neither the next dialogue nor the next ticket' },
    database: true,
  },
  {
    breaks: 'a technician is booked into a house full of gas',
    file: 'src/visits/book-visit.ts',
    find: "await requireNoOpenDanger(act, ticket, 'book');",
    replace: '',
    caughtBy: { file: dialogue, name: 'stops everything with its instruction' },
    database: true,
  },
  {
    breaks: 'a technician leaves for a house full of carbon monoxide',
    file: 'src/visits/move-visit.ts',
    find: "if (step.action === 'start_travel') await requireNoOpenDanger(act, ticket, step.action);",
    replace: '',
    caughtBy: { file: atOnce, name: 'is not left for while there is danger' },
    database: true,
  },
  {
    breaks: 'nobody calls back after a ticket was solved by phone',
    file: 'src/tickets/solve-by-phone.ts',
    find: 'await promiseCallBack(act, ticket.id);',
    replace: '',
    caughtBy: { file: dialogue, name: 'ends the ticket at no charge' },
    database: true,
  },
  {
    breaks: 'the journal says in the clear who is ill',
    file: 'src/phone-checks/answer-question.ts',
    find: '...(question.isPersonal ? {} : { answer: said }),',
    replace: 'answer: said,',
    caughtBy: { file: atOnce, name: 'tells every step, and of people nothing in the clear' },
    database: true,
  },
];
