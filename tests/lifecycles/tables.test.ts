import { describe, expect, it } from 'vitest';
import {
  allowedActions,
  auditFlagAnswers,
  auditFlagLifecycle,
  type Lifecycle,
  move,
  priceBookDraftLifecycle,
  quoteLifecycle,
  ticketLifecycle,
  visitLifecycle,
  warrantyClaimLifecycle,
} from '../../src/lifecycles/index.ts';

/** What the product says of each life; the tables are held to it. */
const lives: {
  name: string;
  lifecycle: Lifecycle<string, string>;
  states: string[];
  terminal: string[];
  actions: string[];
  /** Actions that change the thing itself and leave it in its state. */
  staying?: string[];
}[] = [
  {
    name: 'ticket',
    lifecycle: ticketLifecycle,
    states: [
      'new',
      'scheduled',
      'in_progress',
      'waiting_for_part',
      'waiting_for_answer',
      'work_complete',
      'closed',
      'resolved_by_phone',
      'cancelled',
    ],
    terminal: ['resolved_by_phone', 'cancelled'],
    actions: [
      'arrive',
      'await_answer',
      'await_part',
      'book',
      'cancel',
      'close',
      'complete_work',
      'reopen',
      'resolve_by_phone',
      'unbook',
    ],
  },
  {
    name: 'visit',
    lifecycle: visitLifecycle,
    states: ['booked', 'on_the_way', 'on_site', 'finished', 'no_access', 'cancelled'],
    terminal: ['finished', 'no_access', 'cancelled'],
    actions: ['arrive', 'cancel', 'finish', 'report_no_access', 'start_travel'],
  },
  {
    name: 'quote',
    lifecycle: quoteLifecycle,
    states: ['draft', 'issued', 'accepted', 'declined', 'withdrawn', 'superseded'],
    terminal: ['accepted', 'declined', 'withdrawn', 'superseded'],
    actions: ['accept', 'decline', 'issue', 'supersede', 'withdraw'],
  },
  {
    name: 'draft of the price book',
    lifecycle: priceBookDraftLifecycle,
    states: ['open', 'published', 'dropped'],
    terminal: ['published', 'dropped'],
    actions: ['change', 'drop', 'publish'],
    staying: ['change'],
  },
  {
    name: 'claim under a maker’s warranty',
    lifecycle: warrantyClaimLifecycle,
    states: ['open', 'sent', 'credited', 'refused', 'withdrawn'],
    terminal: ['credited', 'refused', 'withdrawn'],
    actions: ['credit', 'refuse', 'send', 'withdraw'],
  },
  {
    name: 'flag of the audit',
    lifecycle: auditFlagLifecycle,
    states: ['open', 'accepted', 'dismissed', 'gone'],
    terminal: ['accepted', 'dismissed'],
    // What lapses and recurs is said by the rules when a ticket is judged again.
    actions: ['accept', 'dismiss', 'lapse', 'recur'],
  },
];

describe.each(lives)('the life of a $name', (life) => {
  const { lifecycle, states, terminal, actions, staying = [] } = life;
  const steps = states.flatMap((from) => actions.map((action) => ({ from, action })));

  it('has the states the product names, and no others', () => {
    expect(Object.keys(lifecycle.moves)).toEqual(states);
  });

  it('has the actions the product names, each possible somewhere', () => {
    const used = states.flatMap((state) => Object.keys(lifecycle.moves[state] ?? {}));
    expect([...new Set(used)].sort()).toEqual(actions);
  });

  it('reaches every state from where it begins', () => {
    expect([...reachable(lifecycle)].sort()).toEqual([...states].sort());
  });

  it('ends where the product says it ends, and nowhere else', () => {
    expect(states.filter((state) => allowedActions(lifecycle, state).length === 0)).toEqual(
      terminal,
    );
  });

  it('never leads into a state that has no answer, nor stands still but where it says so', () => {
    for (const [from, moves] of Object.entries(lifecycle.moves)) {
      for (const [action, to] of Object.entries(moves)) {
        expect(states).toContain(to);
        expect(to === from).toBe(staying.includes(action));
      }
    }
  });

  it.each(steps)(
    '$from + $action: moves as listed, or says what is possible instead',
    ({ from, action }) => {
      const step = move(lifecycle, from, action);
      const possible = allowedActions(lifecycle, from);
      expect(step.allowed).toBe(possible.includes(action));
      if (step.allowed) expect(step.to).toBe(lifecycle.moves[from]?.[action]);
      else expect(step).toEqual({ allowed: false, from, action, allowedActions: possible });
    },
  );
});

describe('what the tables promise', () => {
  it('nobody cancels a ticket under a technician who is on the way or at work', () => {
    expect(allowedActions(ticketLifecycle, 'scheduled')).not.toContain('cancel');
    expect(allowedActions(ticketLifecycle, 'in_progress')).not.toContain('cancel');
  });

  it('only a new ticket is solved by phone', () => {
    const solvable = Object.entries(ticketLifecycle.moves)
      .filter(([, moves]) => 'resolve_by_phone' in moves)
      .map(([state]) => state);
    expect(solvable).toEqual(['new']);
  });

  it('every visit action that takes back a booking has a ticket that can take it back', () => {
    expect(ticketLifecycle.moves.scheduled.unbook).toBe('new');
    expect(ticketLifecycle.moves.in_progress.unbook).toBe('new');
  });

  it('a quote is accepted only while it stands with the customer', () => {
    const acceptable = Object.entries(quoteLifecycle.moves)
      .filter(([, moves]) => 'accept' in moves)
      .map(([state]) => state);
    expect(acceptable).toEqual(['issued']);
  });

  it('the owner answers an open flag, and is offered nothing that only the rules do', () => {
    for (const state of ['open', 'accepted', 'dismissed', 'gone'] as const) {
      const { lapse: _, recur: __, ...answers } = auditFlagLifecycle.moves[state];
      expect(auditFlagAnswers.moves[state]).toEqual(answers);
    }
    expect(auditFlagAnswers.initial).toBe(auditFlagLifecycle.initial);
    expect(allowedActions(auditFlagAnswers, 'open')).toEqual(['accept', 'dismiss']);
    expect(allowedActions(auditFlagAnswers, 'gone')).toEqual([]);
  });

  it('nothing that the rules say moves a flag that was answered', () => {
    for (const answered of ['accepted', 'dismissed'] as const) {
      for (const turn of ['lapse', 'recur'] as const) {
        expect(move(auditFlagLifecycle, answered, turn).allowed).toBe(false);
      }
    }
  });
});

function reachable({ initial, moves }: Lifecycle<string, string>): Set<string> {
  const seen = new Set([initial]);
  // A Set is walked in order of insertion, what is added on the way included.
  for (const state of seen) {
    for (const next of Object.values(moves[state] ?? {})) {
      if (next !== undefined) seen.add(next);
    }
  }
  return seen;
}
