import { describe, expect, it } from 'vitest';
import {
  type InvoiceAction,
  type InvoiceState,
  invoiceActions,
  invoiceLifecycle,
  move,
} from '../../src/lifecycles/index.ts';

/*
 * Where an invoice rests after a step, issued or settled, is its balance's to say; the table says
 * what may be done from where, and that every step leads to a bill that stands.
 */
const possible: Record<InvoiceState, InvoiceAction[]> = {
  draft: ['issue'],
  issued: ['pay', 'void_payment', 'refund', 'credit'],
  // Nothing is owed either way: there is nothing to pay and nothing to give back.
  settled: ['void_payment', 'credit'],
};
const states = ['draft', 'issued', 'settled'] as const;
const actions = ['issue', 'pay', 'void_payment', 'refund', 'credit'] as const;

describe('the life of an invoice', () => {
  it('begins as a draft, which has no number and takes no money', () => {
    expect(invoiceLifecycle.initial).toBe('draft');
    expect(Object.keys(invoiceLifecycle.moves)).toEqual(states);
  });

  it.each(states.flatMap((from) => actions.map((action) => ({ from, action }))))(
    '$from + $action: moves as listed, or says what is possible instead',
    ({ from, action }) => {
      const allowedActions = possible[from];
      expect(move(invoiceLifecycle, from, action)).toEqual(
        allowedActions.includes(action)
          ? { allowed: true, to: 'issued' }
          : { allowed: false, from, action, allowedActions },
      );
    },
  );

  it.each([
    ['a draft', 'draft', { credited: 0, paid: 0, balance: 0 }, ['issue']],
    ['nothing paid yet', 'issued', { credited: 0, paid: 0, balance: 900 }, ['pay', 'credit']],
    [
      'paid in part',
      'issued',
      { credited: 0, paid: 899, balance: 1 },
      ['pay', 'void_payment', 'credit'],
    ],
    [
      'paid and then credited in part',
      'issued',
      { credited: 1, paid: 900, balance: -1 },
      ['void_payment', 'refund', 'credit'],
    ],
    [
      'paid and then credited whole',
      'issued',
      { credited: 900, paid: 900, balance: -900 },
      ['void_payment', 'refund'],
    ],
    ['paid', 'settled', { credited: 0, paid: 900, balance: 0 }, ['void_payment', 'credit']],
    ['credited whole', 'settled', { credited: 900, paid: 0, balance: 0 }, []],
    [
      'nothing owed either way, before it rests',
      'issued',
      { credited: 0, paid: 900, balance: 0 },
      ['void_payment', 'credit'],
    ],
  ] as const)('%s: offers what is left to be done', (_, state, money, actions) => {
    const { credited: creditedCents, paid: paidCents, balance: balanceCents } = money;
    const left = { totalCents: 900, creditedCents, paidCents, balanceCents };
    expect(invoiceActions(state, left)).toEqual(actions);
  });
});
