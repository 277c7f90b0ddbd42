import fc from 'fast-check';
import { expect } from 'vitest';
import { expectStatus } from '../harness/test-service.ts';
import {
  balanceOf,
  billOf,
  chargedOf,
  FEE_CENTS,
  findings,
  holding,
  latestOf,
  type Model,
  type ModelInvoice,
  type ModelQuote,
  mayAccept,
  mayBook,
  mayCancel,
  mayClose,
  mayDecline,
  mayDraft,
  mayFinish,
  mayIssue,
  mayIssueInvoice,
  mayPay,
  mayRecordOutcome,
  mayRefund,
  mayReopen,
  mayRevise,
  mayUsePart,
  mayVoid,
  mayWithdraw,
  missing,
  nextPurpose,
  recordsAt,
  rootOf,
  type Slip,
  standingOf,
  yesFor,
} from './life-model.ts';
import { act, nextWindow, readAt, settle, type World } from './life-world.ts';

type Command = fc.AsyncCommand<Model, World>;
type Run = (model: Model, world: World) => Promise<void>;

const command = (name: string, run: Run): Command => ({
  check: () => true,
  run,
  toString: () => name,
});

/** Which of several: the model may have none, and then the act is not tried. */
const chosen = <T>(list: readonly T[], pick: number): T | undefined => list[pick % list.length];

const sellsOf = (mask: number) =>
  findings.map((_, at) => at).filter((at) => (mask & (1 << at)) !== 0);

const optionsOf = ({ findingIds }: World, sells: number[]) => ({
  options: [{ title: 'Repair', findingIds: sells.map((at) => findingIds[at]) }],
});

function remember(model: Model, quote: ModelQuote, body: RevisionBody, sells: number[]): void {
  quote.revisions.push({
    state: 'draft',
    sells,
    totalCents: body.options[0]?.totalCents ?? 0,
    declineTotalCents: body.declineTotalCents,
    issuedAtMs: undefined,
    knew: chargedOf(model),
  });
}

interface RevisionBody {
  declineTotalCents: number;
  options: { totalCents: number }[];
}

const draft = (mask: number, changeOrder: boolean): Command =>
  command(
    `draft ${sellsOf(mask)}${changeOrder ? ' as change order' : ''}`,
    async (model, world) => {
      const root = rootOf(model);
      if (changeOrder && root === undefined) return;
      const sells = sellsOf(mask);
      const answer = await world.service.as('technician').post('/v1/quotes', {
        visitId: world.job.visitId,
        ...(changeOrder && { changeOrderOf: root?.id }),
        ...optionsOf(world, sells),
      });
      if (!settle(answer, mayDraft(model, sells, changeOrder), 201)) return;
      const quote: ModelQuote = {
        id: answer.body.id,
        isChangeOrder: changeOrder,
        parent: changeOrder ? root : undefined,
        revisions: [],
        acceptedAtMs: undefined,
        cancelUntilMs: undefined,
        isCancelled: false,
        isBilled: false,
      };
      remember(model, quote, answer.body, sells);
      model.quotes.push(quote);
    },
  );

/** An act on one of the quotes there are. */
const onQuote = (
  name: string,
  pick: number,
  run: (model: Model, world: World, quote: ModelQuote, path: string) => Promise<void>,
): Command =>
  command(`${name} (quote ${pick})`, async (model, world) => {
    const quote = chosen(model.quotes, pick);
    if (quote !== undefined) await run(model, world, quote, `/v1/quotes/${quote.id}`);
  });

const revise = (pick: number, mask: number): Command =>
  onQuote(`revise to ${sellsOf(mask)}`, pick, async (model, world, quote, path) => {
    const sells = sellsOf(mask);
    const latest = latestOf(quote);
    const answer = await act(world, path, 'revise', optionsOf(world, sells));
    if (!settle(answer, mayRevise(model, quote, sells))) return;
    if (latest.state === 'draft') latest.state = 'superseded';
    remember(model, quote, answer.body, sells);
  });

const issue = (pick: number): Command =>
  onQuote('issue', pick, async (model, world, quote, path) => {
    const answer = await act(world, path, 'issue');
    if (!settle(answer, mayIssue(model, quote))) return;
    const standing = standingOf(quote);
    if (standing !== undefined) standing.state = 'superseded';
    const latest = latestOf(quote);
    latest.state = 'issued';
    latest.issuedAtMs = model.nowMs;
  });

const accept = (pick: number, slip: Slip): Command =>
  onQuote(
    slip === 'none' ? 'accept' : `accept with a wrong ${slip}`,
    pick,
    async (model, world, quote, path) => {
      const { tag, body } = await readAt(world, path);
      const standing = standingOf(quote);
      const at = standing && quote.revisions.indexOf(standing) + 1;
      const shown = at === undefined ? body : (await readAt(world, `${path}?revision=${at}`)).body;
      const yes = {
        optionId: shown.options[0].id,
        acceptedByName: 'Winifred Ashgrove',
        consentText: 'I accept this option at this total.',
        shownTotalCents: shown.options[0].totalCents + (slip === 'total' ? 1 : 0),
        shownContentHash: slip === 'hash' ? '0'.repeat(64) : (shown.contentHash ?? '0'.repeat(64)),
      };
      const answer = await act(world, path, 'accept', yes, slip === 'tag' ? '"v999999"' : tag);
      if (!settle(answer, mayAccept(model, quote, slip))) return;
      if (standing === undefined) throw new Error('what was accepted stood');
      standing.state = 'accepted';
      for (const each of quote.revisions) if (each.state === 'draft') each.state = 'superseded';
      expect(answer.body.acceptance.totalCents).toBe(standing.totalCents);
      const { acceptedAt, cancelUntil } = answer.body.acceptance;
      quote.acceptedAtMs = Date.parse(acceptedAt);
      quote.cancelUntilMs = cancelUntil === null ? undefined : Date.parse(cancelUntil);
    },
  );

const decline = (pick: number): Command =>
  onQuote('decline', pick, async (_, world, quote, path) => {
    const answer = await act(world, path, 'decline', {
      declinedByName: 'Winifred Ashgrove',
      conditionLeft: 'Off at the disconnect.',
    });
    const standing = standingOf(quote);
    if (!settle(answer, mayDecline(quote)) || standing === undefined) return;
    standing.state = 'declined';
    for (const each of quote.revisions) if (each.state === 'draft') each.state = 'superseded';
  });

const withdraw = (pick: number): Command =>
  onQuote('withdraw', pick, async (_, world, quote, path) => {
    const answer = await act(world, path, 'withdraw');
    if (!settle(answer, mayWithdraw(quote))) return;
    for (const each of quote.revisions) {
      if (each.state === 'draft' || each.state === 'issued') each.state = 'withdrawn';
    }
  });

const cancelYes = (pick: number): Command =>
  onQuote('take the yes back', pick, async (model, world, quote, path) => {
    const answer = await act(world, path, 'cancel-acceptance', {
      cancelledByName: 'Winifred Ashgrove',
      noticeText: 'I cancel this transaction.',
    });
    if (!settle(answer, mayCancel(model, quote))) return;
    // What was added falls with it.
    const fallen = holding(model).filter((each) => each === quote || each.parent === quote);
    for (const each of fallen) each.isCancelled = true;
    for (const invoice of model.invoices) await creditedFor(world, invoice, fallen);
  });

/** What a yes sold that was taken back is not billed, or credited at once. */
async function creditedFor(
  world: World,
  invoice: ModelInvoice,
  fallen: readonly ModelQuote[],
): Promise<void> {
  if (!invoice.bills.some((quote) => fallen.includes(quote))) return;
  const left = invoice.bills.filter(({ isCancelled }) => !isCancelled);
  const trip = invoice.bills.some(({ isChangeOrder }) => !isChangeOrder) ? FEE_CENTS : 0;
  if (invoice.state === 'draft') {
    const { expectedCents } = invoice;
    const atMost = typeof expectedCents === 'number' ? expectedCents : expectedCents.atMost;
    invoice.expectedCents = left.length === 0 ? trip : { atLeast: 0, atMost: atMost + trip };
    return;
  }
  const { body } = await readAt(world, `/v1/invoices/${invoice.id}`);
  const isUntouched = invoice.creditedCents === 0 && left.length === 0;
  if (isUntouched) expect(invoice.totalCents - body.creditedCents).toBe(trip);
  expect(body.creditedCents).toBeGreaterThanOrEqual(invoice.creditedCents);
  invoice.creditedCents = body.creditedCents;
  invoice.state = balanceOf(invoice) === 0 ? 'settled' : 'issued';
}

const waitMonth: Command = command('wait for 31 days', async (model, { service }) => {
  service.clock.advance(31 * 86_400_000);
  model.nowMs = service.clock.now().getTime();
});

const finish = (ticketIs: 'work_complete' | 'waiting_for_answer' | 'waiting_for_part'): Command =>
  command(`finish the visit: ${ticketIs}`, async (model, world) => {
    const visit = model.visits.find(({ isLive }) => isLive);
    if (visit === undefined) return;
    const promisedOn = new Date(model.nowMs + 3 * 86_400_000).toISOString().slice(0, 10);
    const answer = await act(world, `/v1/visits/${visit.id}`, 'finish', {
      ticketIs,
      ...(ticketIs === 'waiting_for_part' && {
        waitingFor: { what: 'A blower motor', promisedOn, toldTo: 'Winifred Ashgrove' },
      }),
    });
    if (!settle(answer, mayFinish(model, ticketIs))) return;
    visit.isLive = false;
    model.ticket = ticketIs;
    if (ticketIs === 'waiting_for_part') model.waitedForPart = true;
  });

const comeBack: Command = command('book the next visit and arrive', async (model, world) => {
  if (model.visits.some(({ isLive }) => isLive)) return;
  const { service, job } = world;
  const window = nextWindow(service);
  model.nowMs = service.clock.now().getTime();
  const purpose = nextPurpose(model);
  const answer = await service.as('dispatcher').post('/v1/visits', {
    ticketId: job.ticketId,
    technicianId: service.staff.technician.id,
    ...window,
    purpose,
    feeDisclosure: { toldFeeCents: 0, agreedBy: 'Winifred Ashgrove' },
  });
  if (!settle(answer, mayBook(model), 201)) return;
  const { id } = answer.body;
  for (const verb of ['start-travel', 'arrive']) {
    expectStatus(await act(world, `/v1/visits/${id}`, verb), 200);
  }
  model.visits.push({ id, purpose, isLive: true, isOver: false });
  model.ticket = 'in_progress';
});

const record = (at: number, outcome: 'done' | 'not_done'): Command =>
  command(`${findings[at]?.name}: ${outcome}`, async (model, world) => {
    const quote = yesFor(model, at);
    const visit = recordsAt(model);
    if (quote === undefined || visit === undefined) return;
    const answer = await world.service
      .as('technician')
      .post(`/v1/visits/${visit.id}/work-outcomes`, {
        quoteId: quote.id,
        findingId: world.findingIds[at],
        outcome,
        ...(outcome === 'not_done' && { reason: 'The part did not fit.' }),
      });
    if (settle(answer, mayRecordOutcome(model, at, outcome), 201)) {
      model.outcomes.set(at, { quoteId: quote.id, outcome });
      // What was read before somebody came back says nothing of what was done then.
      if (outcome === 'done' && model.readAtVisit !== visit.id) model.readingsAfter = false;
    }
  });

const usePart = (at: number): Command =>
  command(`use the part for ${findings[at]?.name}`, async (model, world) => {
    const quote = yesFor(model, at);
    const visit = recordsAt(model);
    const partCode = findings[at]?.part;
    if (quote === undefined || visit === undefined || partCode === undefined) return;
    const answer = await world.service.as('technician').post(`/v1/visits/${visit.id}/part-uses`, {
      quoteId: quote.id,
      findingId: world.findingIds[at],
      partCode,
      quantity: 1,
      oldPart: 'given_to_customer',
    });
    if (settle(answer, mayUsePart(model, at), 201)) model.partsUsed.add(at);
  });

const close = (saysNoReadings: boolean): Command =>
  command(
    `close${saysNoReadings ? ', saying why there are no readings' : ''}`,
    async (model, world) => {
      const path = `/v1/tickets/${world.job.ticketId}`;
      const answer = await act(world, path, 'close', {
        complaintGone: 'yes',
        conditionLeft: 'Running, panels closed.',
        ...(saysNoReadings && { noReadingsWhy: 'Nothing was mended.' }),
      });
      const verdict = mayClose(model, saysNoReadings);
      if (!settle(answer, verdict)) {
        if (answer.body.code === 'work-not-recorded') {
          const named = answer.body.missing.map(({ what }: { what: string }) => what);
          expect([...new Set(named)].sort()).toEqual(missing(model, saysNoReadings));
        }
        return;
      }
      const listed = expectStatus(
        await world.service.as('owner').get(`/v1/invoices?ticketId=${world.job.ticketId}`),
        200,
      ).body.items;
      expect(listed).toHaveLength(model.invoices.length + 1);
      const known = model.invoices.map(({ id }) => id);
      const made = listed.find(({ id }: { id: string }) => !known.includes(id));
      model.invoices.push({
        id: made.id,
        state: 'draft',
        expectedCents: billOf(model),
        bills: holding(model).filter(({ isBilled }) => !isBilled),
        totalCents: 0,
        paidCents: 0,
        creditedCents: 0,
        refundedCents: 0,
        payments: [],
      });
      for (const visit of model.visits) visit.isOver = true;
      for (const quote of holding(model)) quote.isBilled = true;
      model.isFeeBilled = true;
      model.ticket = 'closed';
      model.closedAtMs = model.nowMs;
      model.isReopened = false;
      model.readingsAfter = false;
    },
  );

const reopen: Command = command('the trouble is back', async (model, world) => {
  const answer = await act(world, `/v1/tickets/${world.job.ticketId}`, 'reopen', {
    complaint: 'It blows warm air again.',
  });
  if (!settle(answer, mayReopen(model))) return;
  model.ticket = 'new';
  model.isReopened = true;
});

/** An act on one of the invoices there are. */
const onInvoice = (
  name: string,
  pick: number,
  run: (model: Model, world: World, invoice: ModelInvoice, path: string) => Promise<void>,
): Command =>
  command(`${name} (invoice ${pick})`, async (model, world) => {
    const invoice = chosen(model.invoices, pick);
    if (invoice !== undefined) await run(model, world, invoice, `/v1/invoices/${invoice.id}`);
  });

const issueInvoice = (pick: number): Command =>
  onInvoice('issue the invoice', pick, async (_, world, invoice, path) => {
    const answer = await act(world, path, 'issue');
    if (!settle(answer, mayIssueInvoice(invoice))) return;
    const { totalCents } = answer.body;
    const expected = invoice.expectedCents;
    if (typeof expected === 'number') expect(totalCents).toBe(expected);
    else {
      expect(totalCents).toBeGreaterThanOrEqual(expected.atLeast);
      expect(totalCents).toBeLessThanOrEqual(expected.atMost);
    }
    invoice.totalCents = totalCents;
    await heldAgainst(world, invoice, path);
  });

/** What the API says of an invoice's money is what the model counted. */
async function heldAgainst(world: World, invoice: ModelInvoice, path: string): Promise<void> {
  invoice.state = balanceOf(invoice) === 0 ? 'settled' : 'issued';
  const { body } = await readAt(world, path);
  expect(body).toMatchObject({
    state: invoice.state,
    totalCents: invoice.totalCents,
    paidCents: invoice.paidCents,
    creditedCents: invoice.creditedCents,
    refundedCents: invoice.refundedCents,
    balanceCents: balanceOf(invoice),
  });
}

/** Part of what is owed, all of it, or a cent too much. */
const sum = (owedCents: number, part: 'some' | 'all' | 'too_much'): number => {
  const owed = Math.max(owedCents, 0);
  if (part === 'all') return Math.max(owed, 1);
  return part === 'some' ? Math.max(Math.ceil(owed / 3), 1) : owed + 1;
};

const pay = (pick: number, part: 'some' | 'all' | 'too_much'): Command =>
  onInvoice(`pay ${part}`, pick, async (_, world, invoice, path) => {
    const amountCents = sum(balanceOf(invoice), part);
    const answer = await act(world, path, 'payments', { method: 'cash', amountCents });
    if (!settle(answer, mayPay(invoice, amountCents), 201)) return;
    invoice.paidCents += amountCents;
    invoice.payments.push({ id: answer.body.id, amountCents, isVoided: false });
    await heldAgainst(world, invoice, path);
  });

const voidPayment = (pick: number, which: number): Command =>
  onInvoice('void a payment', pick, async (_, world, invoice, path) => {
    const payment = chosen(invoice.payments, which);
    if (payment === undefined) return;
    const { tag } = await readAt(world, path);
    const body = { reason: 'The check came back.' };
    const answer = await act(world, `/v1/payments/${payment.id}`, 'void', body, tag);
    if (!settle(answer, mayVoid(invoice, payment))) return;
    payment.isVoided = true;
    invoice.paidCents -= payment.amountCents;
    await heldAgainst(world, invoice, path);
  });

const refund = (pick: number, part: 'some' | 'all' | 'too_much'): Command =>
  onInvoice(`refund ${part}`, pick, async (_, world, invoice, path) => {
    const amountCents = sum(-balanceOf(invoice), part);
    const answer = await act(world, path, 'refunds', { method: 'cash', amountCents });
    if (!settle(answer, mayRefund(invoice, amountCents), 201)) return;
    invoice.refundedCents += amountCents;
    await heldAgainst(world, invoice, path);
  });

const credit = (pick: number, which: number): Command =>
  onInvoice('credit a line', pick, async (_, world, invoice, path) => {
    if (invoice.state === 'draft') return;
    const { body } = await readAt(world, path);
    const documents: { position: number; kind: string; lines: LineBody[] }[] = body.documents;
    const lines = documents
      .filter(({ kind }) => kind !== 'work_not_done')
      .flatMap(({ position, lines: all }) =>
        all
          .filter(({ kind, amountCents }) => ['part', 'labor'].includes(kind) && amountCents > 1)
          .map((line) => ({ document: position, line })),
      );
    const aim = chosen(lines, which);
    if (aim === undefined) return;
    const amountCents = Math.ceil(aim.line.amountCents / 4);
    const answer = await act(world, path, 'credit-memos', {
      kind: 'goodwill',
      reason: 'We were late.',
      lines: [{ document: aim.document, key: aim.line.key, amountCents }],
    });
    // What is left of a line after discounts and earlier credits is the program's own account here;
    // the whole tickets and the laws of credits hold it to the cent.
    if (answer.status !== 201) {
      expect(['above-balance', 'price-refused'], answer.text).toContain(answer.body.code);
      return;
    }
    expect(answer.body.totalCents).toBeGreaterThanOrEqual(amountCents);
    invoice.creditedCents += answer.body.totalCents;
    expect(invoice.creditedCents).toBeLessThanOrEqual(invoice.totalCents);
    await heldAgainst(world, invoice, path);
  });

interface LineBody {
  key: string;
  kind: string;
  amountCents: number;
}

const measureAfter: Command = command('read the meter after', async (model, world) => {
  const visit = model.visits.find(({ isLive }) => isLive);
  if (visit === undefined) return;
  const answer = await world.service.as('technician').post(`/v1/visits/${visit.id}/readings`, {
    readings: [
      {
        equipmentId: world.job.outdoorId,
        quantity: 'voltage',
        point: 'line_supply',
        value: 241,
        unit: 'V',
        method: 'multimeter',
        phase: 'left',
      },
    ],
  });
  expectStatus(answer, 201);
  model.readingsAfter = true;
  model.readAtVisit = visit.id;
});

const pick = fc.nat(7);
const mask = fc.integer({ min: 1, max: 15 });
const at = fc.nat(findings.length - 1);
const part = fc.constantFrom('some' as const, 'all' as const, 'too_much' as const);

/** Every act, the likely ones more often, so that lives get somewhere. */
export const anyCommands: fc.Arbitrary<Command>[] = [
  fc.tuple(mask, fc.boolean()).map(([m, changeOrder]) => draft(m, changeOrder)),
  mask.map((m) => draft(m, false)),
  fc.tuple(pick, mask).map(([p, m]) => revise(p, m)),
  pick.map(issue),
  pick.map(issue),
  pick.map((p) => accept(p, 'none')),
  pick.map((p) => accept(p, 'none')),
  fc.tuple(pick, fc.constantFrom<Slip>('total', 'hash', 'tag')).map(([p, slip]) => accept(p, slip)),
  pick.map(decline),
  pick.map(decline),
  pick.map(withdraw),
  pick.map(cancelYes),
  fc.constant(waitMonth),
  fc.constant(finish('work_complete')),
  fc.constant(finish('waiting_for_answer')),
  fc.constant(finish('waiting_for_part')),
  fc.constant(comeBack),
  at.map((f) => record(f, 'done')),
  at.map((f) => record(f, 'done')),
  at.map((f) => record(f, 'not_done')),
  at.map(usePart),
  at.map(usePart),
  fc.constant(measureAfter),
  fc.constant(close(true)),
  fc.constant(close(false)),
  fc.constant(reopen),
  pick.map(issueInvoice),
  fc.tuple(pick, part).map(([p, much]) => pay(p, much)),
  fc.tuple(pick, pick).map(([p, which]) => voidPayment(p, which)),
  fc.tuple(pick, part).map(([p, much]) => refund(p, much)),
  fc.tuple(pick, pick).map(([p, which]) => credit(p, which)),
];

const agree = (mask: number): Command[] => [draft(mask, false), issue(0), accept(0, 'none')];

/** Everything agreed to by two quotes is done, the ticket closed and its invoice issued. */
const finishWell = (sold: number[]): Command[] => [
  ...sold.map((f) => record(f, 'done')),
  ...sold.map(usePart),
  measureAfter,
  finish('work_complete'),
  close(false),
  issueInvoice(0),
];

const overpay = (sold: number[]): Command[] => [...finishWell(sold), pay(0, 'all'), credit(0, 0)];

/**
 * How a life may begin, because chance alone seldom comes as far as the money: from nothing, with a
 * quote that waits, with a yes, with a yes and a change order, with a bill, with one overpaid, or
 * with one of which some was given back.
 */
export const anyBeginning: fc.Arbitrary<Command[]> = fc.oneof(
  fc.constant<Command[]>([]),
  mask.map((m) => agree(m).slice(0, 2)),
  mask.map(agree),
  fc.integer({ min: 1, max: 14 }).map((m) => [...agree(m), ...change(15 - m)]),
  mask.map((m) => [...agree(m), ...finishWell(sellsOf(m))]),
  mask.map((m) => [...agree(m), ...overpay(sellsOf(m))]),
  mask.map((m) => [...agree(m), ...overpay(sellsOf(m)), refund(0, 'some')]),
  fc
    .integer({ min: 1, max: 14 })
    .map((m) => [...agree(m), ...change(15 - m), ...finishWell(sellsOf(15))]),
);

function change(others: number): Command[] {
  return [draft(others, true), issue(1), accept(1, 'none')];
}
