import fc from 'fast-check';
import type {
  InvoicePaperDocument,
  Paper,
  PaperAmount,
  PaperAnswerWay,
  PaperBeforeAfter,
  PaperDecline,
  PaperFinding,
  PaperLineGroup,
  PaperMeasurement,
  PaperOption,
  PaperOutcome,
  PaperPricedLine,
  PaperSystem,
} from '../../src/documents/index.ts';
import { hanNames, lettersOf, promisedScripts } from './promised-scripts.ts';

/** Papers of every kind and both languages, from the emptiest to the longest and largest. */
export function randomPaper(): fc.Arbitrary<Paper> {
  return fc.oneof(quote(), acceptance(), decline(), invoice(), creditMemo(), workRecord());
}

const PEOPLE = [
  'Ann O’Hara & Sons <heating>',
  'Ελένη Παπαδοπούλου',
  'Людмила Ґалаґан',
  'José Ñúñez-Żółć',
  'Đặng Thị Hạnh',
  'Griffin Affleck, office',
  '李 小龍',
  'محمد الحداد',
  'דָּוִד לוי',
  'प्रिया शर्मा',
  'Zoë 🔧 Fix-it',
  '\u202Egnp.sworc\u202C',
  'W'.repeat(200),
  'X',
];

const SENTENCES = [
  'The compressor hums and does not start.',
  'El compresor zumba y no arranca; la pieza está “débil”.',
  'Το κύκλωμα δεν κλείνει: 24 V στην είσοδο, 0 V στην έξοδο.',
  'Вентилятор вращается; компрессор гудит.',
  'Office staff: ffi ffl fi fl, 1/2 × 3 ≤ 4 ± 0.5 µF, 105 °F',
  'One\nparagraph\n\nand another.\tTabs too.',
  'A long tale of a hot attic and a drain that would not drain. '.repeat(15),
  'Averylongwordwithoutanyspaceinit'.repeat(12),
  '配管が詰まっています。',
];

const name = () =>
  fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...PEOPLE) },
    { weight: 2, arbitrary: fc.constantFrom(...FOREIGN_NAMES) },
    { weight: 1, arbitrary: said(24) },
    { weight: 1, arbitrary: foreign(24) },
  );
const sentence = () =>
  fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(...SENTENCES) },
    { weight: 1, arbitrary: said(80) },
    { weight: 1, arbitrary: foreign(80) },
  );

const FOREIGN_NAMES = [...promisedScripts.flatMap(({ names }) => names), ...hanNames];
/** Anything a keyboard or a copied text may bring, with at least one letter that can be seen. */
const said = (maxLength: number) =>
  fc.string({ unit: 'binary', maxLength }).map((text) => `${text.replace(MARKS_FIRST, '')}a`);
/** A mark at a text's beginning would stand on the last letter of whatever is read before it. */
const MARKS_FIRST = /^[\p{M}\s]+/u;
/** Any letters of one script, in any order, beside what may stand between them and around them. */
const foreign = (maxLength: number) =>
  fc
    .constantFrom(...ALPHABETS)
    .chain((letters) =>
      fc.string({
        unit: fc.oneof(
          { weight: 8, arbitrary: fc.constantFrom(...letters) },
          { weight: 1, arbitrary: fc.constantFrom(...BESIDE) },
        ),
        maxLength,
      }),
    )
    .map((text) => `${text.replace(MARKS_FIRST, '')}a`);
const BESIDE = Array.from(' -.,:(7$A\u0301\u0308😀\u2067');
/** Of Chinese a few: each of its letters may lie in another file, and reading them all takes long. */
const ALPHABETS = [
  ...promisedScripts.map(lettersOf),
  Array.from(hanNames.join('').replace(/ /g, '')),
];
const sentences = () => fc.array(sentence(), { maxLength: 3 });
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });

const amount = () =>
  fc.oneof(
    fc.constant(0),
    fc.integer({ min: -50_000, max: 500_000 }),
    fc.constantFrom(1, -1, 10 ** 12, -(10 ** 12)),
  );

/** Mostly a kitchen table's worth of lines, now and then two hundred. */
const counted = <T>(arbitrary: fc.Arbitrary<T>) =>
  fc.oneof(
    { weight: 15, arbitrary: fc.array(arbitrary, { minLength: 1, maxLength: 9, size: 'max' }) },
    { weight: 2, arbitrary: fc.array(arbitrary, { minLength: 30, maxLength: 60, size: 'max' }) },
    { weight: 1, arbitrary: fc.array(arbitrary, { minLength: 120, maxLength: 200, size: 'max' }) },
  );

const sum = (amounts: readonly PaperAmount[]) =>
  amounts.reduce((total, { amountCents }) => total + amountCents, 0);

const address = () =>
  fc.record({
    street: fc.constantFrom('48 Sample Lane', 'Οδός Δείγματος 7', 'Calle Ejemplo 12, Apto. 4'),
    city: fc.constantFrom('Sampleton', 'Muestra', 'Пример'),
    region: fc.constant('TX'),
    postalCode: fc.constant('75001'),
  });

const company = () =>
  fc.record({
    name: name(),
    address: address(),
    phone: fc.constant('(555) 555-0140'),
    email: fc.constant('service@example.com'),
    licenseNumber: fc.constant('EXAMPLE-0001'),
    regulatorLine: sentence(),
  });

const hash = () =>
  fc.string({ unit: fc.constantFrom(...'0123456789abcdef'), minLength: 64, maxLength: 64 });

const head = () =>
  fc.record({
    language: fc.constantFrom('en' as const, 'es' as const),
    company: company(),
    issuedAt: fc.constantFrom(
      '2026-07-14T20:41:07Z',
      '1999-12-31T23:59:59Z',
      '2031-02-28T00:00:00Z',
    ),
    cautions: sentences(),
    contentHash: hash(),
  });

const people = () =>
  fc.record({
    customer: fc.record({ name: name(), address: maybe(address()) }),
    site: fc.record({ occupant: name(), address: address() }),
  });

const systems = () =>
  fc.array(
    fc.record<PaperSystem>({
      name: name(),
      model: maybe(name()),
      nameplate: fc.array(fc.record({ label: fc.constant('Fan'), text: fc.constant('0.9 A') }), {
        maxLength: 5,
      }),
    }),
    { maxLength: 3 },
  );

const measurement = (): fc.Arbitrary<PaperMeasurement> =>
  fc
    .record({
      label: sentence(),
      unit: fc.constantFrom('µF', 'V', 'psig', 'in. w.c.', '°F'),
      decimals: fc.integer({ min: 0, max: 4 }),
      value: fc.oneof(fc.constant(0), fc.double({ min: -500, max: 5_000, noNaN: true })),
      limits: fc.array(fc.double({ min: -50, max: 900, noNaN: true }), { maxLength: 2 }),
      isLow: fc.boolean(),
      uncertainty: maybe(fc.double({ min: 0, max: 40, noNaN: true })),
      verdict: fc.constantFrom('within' as const, 'outside' as const, 'undecided' as const),
      limitText: sentence(),
    })
    .map(({ limits, isLow, ...rest }) => {
      const [one, other] = [...limits].sort((a, b) => a - b);
      if (one === undefined) return rest;
      if (other !== undefined) return { ...rest, low: one, high: other };
      return isLow ? { ...rest, low: one } : { ...rest, high: one };
    });

const finding = (): fc.Arbitrary<PaperFinding> =>
  fc.record({
    name: sentence(),
    explanation: sentence(),
    standing: fc.constantFrom('proven', 'supported', 'unproven', 'contradicted'),
    doubts: sentences(),
    measurements: fc.array(measurement(), { maxLength: 4 }),
    observations: sentences(),
    cautions: sentences(),
  });

const findings = () => fc.array(finding(), { maxLength: 4 });

const pricedLine = (): fc.Arbitrary<PaperPricedLine> =>
  fc.record({
    description: sentence(),
    detail: maybe(sentence()),
    quantityText: maybe(fc.constantFrom('2', '0.75 h', '1.5 lb')),
    unitPriceCents: maybe(fc.nat(10 ** 9)),
    amountCents: amount(),
  });

/** All lines in groups of up to seven. */
function grouped<Line>(lines: readonly Line[], heading: string): PaperLineGroup<Line>[] {
  const groups: PaperLineGroup<Line>[] = [];
  for (let at = 0; at < lines.length; at += 7) {
    groups.push({ heading, lines: lines.slice(at, at + 7) });
  }
  return groups;
}

const taxes = () =>
  fc.array(fc.record({ label: sentence(), amountCents: amount() }), { maxLength: 2 });

const option = (letter: string): fc.Arbitrary<PaperOption> =>
  fc
    .record({
      title: sentence(),
      explanation: maybe(sentence()),
      heading: sentence(),
      lines: counted(pricedLine()),
      taxes: taxes(),
      isLumpSum: fc.boolean(),
    })
    .map(({ heading, lines, isLumpSum, ...rest }): PaperOption => {
      const beforeTax = lines.reduce((total, { amountCents }) => total + amountCents, 0);
      const prices = isLumpSum
        ? ({
            kind: 'lump_sum',
            groups: grouped(
              lines.map(({ description, detail, quantityText }) => ({
                description,
                detail,
                quantityText,
              })),
              heading,
            ),
            priceCents: beforeTax,
          } as const)
        : ({
            kind: 'separated',
            groups: grouped(lines, heading),
            subtotalCents: beforeTax,
          } as const);
      return { ...rest, letter, prices, totalCents: beforeTax + sum(rest.taxes) };
    });

const options = () =>
  fc
    .integer({ min: 1, max: 3 })
    .chain((count) => fc.tuple(...['A', 'B', 'C'].slice(0, count).map(option)));

const legalTexts = () =>
  fc.array(fc.record({ title: sentence(), text: sentence() }), { maxLength: 2 });

const visitFee = (): fc.Arbitrary<PaperDecline> =>
  taxes().map((amounts) => ({ amounts, totalCents: sum(amounts) }));

const changed = () =>
  fc.record({
    quoteNumber: fc.constantFrom('7', '10010'),
    agreedCents: fc.nat(10 ** 10),
    hasGrown: fc.boolean(),
  });

const given = (): fc.Arbitrary<PaperAnswerWay> =>
  fc.oneof(
    fc.constant({ way: 'link' as const }),
    name().map((recordedBy) => ({ way: 'staff' as const, recordedBy })),
    name().map((recordedBy) => ({ way: 'signed_paper' as const, recordedBy })),
  );

const numbers = () =>
  fc.record({
    quoteNumber: fc.constantFrom('10042', '9'),
    revision: fc.integer({ min: 1, max: 9 }),
  });

const quote = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      people(),
      numbers(),
      fc.record({
        issuedText: fc.constant('July 14, 2026'),
        validUntilText: fc.constant('July 28, 2026, midnight'),
        summary: sentence(),
        systems: systems(),
        findings: findings(),
        options: options(),
        decline: visitFee(),
        changes: maybe(changed()),
        legalTexts: legalTexts(),
      }),
    )
    .map(([head, people, numbers, own]): Paper => {
      const decline = own.changes === undefined ? own.decline : NOTHING_OWED;
      return { kind: 'quote', paper: { ...head, ...people, ...numbers, ...own, decline } };
    });

const NOTHING_OWED: PaperDecline = { amounts: [], totalCents: 0 };

const acceptance = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      people(),
      numbers(),
      fc.record({
        acceptedText: fc.constant('July 14, 2026, 3:52 PM CDT'),
        option: option('B'),
        optionCount: fc.integer({ min: 1, max: 3 }),
        changes: maybe(changed()),
        acceptedByName: name(),
        given: given(),
        beyondLimitAgreedBy: maybe(name()),
        consentText: sentence(),
        cancelUntilText: maybe(fc.constant('July 17, 2026')),
        legalTexts: legalTexts(),
      }),
    )
    .map(([head, people, numbers, own]) => ({
      kind: 'acceptance',
      paper: { ...head, ...people, ...numbers, ...own },
    }));

const decline = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      people(),
      numbers(),
      fc.record({
        declinedText: fc.constant('July 14, 2026, 3:52 PM CDT'),
        systems: systems(),
        findings: findings(),
        offered: fc.array(
          fc.record({ letter: fc.constant('A'), title: sentence(), totalCents: amount() }),
          { minLength: 1, maxLength: 3 },
        ),
        declinedByName: name(),
        given: given(),
        reason: maybe(sentence()),
        conditionLeft: maybe(sentence()),
        dangerWarned: maybe(sentence()),
        decline: visitFee(),
        changes: maybe(changed()),
      }),
    )
    .map(([head, people, numbers, own]) => ({
      kind: 'decline',
      paper: { ...head, ...people, ...numbers, ...own },
    }));

const billedDocument = (): fc.Arbitrary<Omit<InvoicePaperDocument, 'position'>> =>
  fc
    .record({
      title: sentence(),
      lines: counted(fc.record({ description: sentence(), amountCents: amount() })),
      taxes: taxes(),
      isLumpSum: fc.boolean(),
    })
    .map(({ title, lines, taxes, isLumpSum }) => {
      const beforeTax = lines.reduce((total, { amountCents }) => total + amountCents, 0);
      const totalCents = beforeTax + sum(taxes);
      if (!isLumpSum) return { title, prices: { kind: 'separated', lines }, taxes, totalCents };
      const described = lines.map(({ description }) => ({ description }));
      const prices = { kind: 'lump_sum', lines: described, priceCents: beforeTax } as const;
      return { title, prices, taxes, totalCents };
    });

const billed = () =>
  fc.array(billedDocument(), { minLength: 1, maxLength: 4 }).map((billed) => {
    const documents = billed.map((document, at) => ({ ...document, position: at + 1 }));
    return {
      documents,
      taxCents: documents.reduce((total, { taxes }) => total + sum(taxes), 0),
      totalCents: documents.reduce((total, { totalCents }) => total + totalCents, 0),
    };
  });

const billedHead = () =>
  fc.record({
    invoiceNumber: fc.constantFrom('1', '2107'),
    ticketNumber: fc.constant('5518'),
    issuedText: fc.constant('July 16, 2026'),
    payer: fc.record({ name: name() }),
  });

const invoice = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      billedHead(),
      billed(),
      fc.record({
        kind: fc.constant('invoice' as const),
        dueText: fc.constant('July 30, 2026'),
        site: fc.record({ occupant: name(), address: address() }),
        visitDays: fc.array(fc.constantFrom('July 14, 2026', 'July 16, 2026'), { maxLength: 3 }),
      }),
    )
    .map(([head, billedHead, billed, own]) => ({
      kind: 'invoice',
      paper: { ...head, ...billedHead, ...billed, ...own },
    }));

const creditMemo = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      billedHead(),
      billed(),
      fc.record({
        kind: fc.constant('credit_memo' as const),
        memoNumber: fc.constantFrom('1', '31'),
        reason: sentence(),
      }),
    )
    .map(([head, billedHead, billed, own]) => ({
      kind: 'credit_memo',
      paper: { ...head, ...billedHead, ...billed, ...own },
    }));

const outcome = (): fc.Arbitrary<PaperOutcome> =>
  fc.oneof(
    fc.record({
      outcome: fc.constant('done' as const),
      task: sentence(),
      laborWarrantyUntilText: maybe(fc.constant('July 14, 2027')),
    }),
    fc.record({ outcome: fc.constant('not_done' as const), task: sentence(), reason: sentence() }),
    fc.constant({ outcome: 'not_agreed' as const }),
  );

const beforeAfter = (): fc.Arbitrary<PaperBeforeAfter> =>
  fc
    .tuple(measurement(), measurement(), fc.constantFrom('before', 'after', 'both'))
    .map(([before, other, which]) => {
      const { label, unit, limitText, decimals, low, high } = before;
      const after = {
        label,
        unit,
        limitText,
        decimals,
        value: other.value,
        verdict: other.verdict,
        uncertainty: other.uncertainty,
        ...(low !== undefined && { low }),
        ...(high !== undefined && { high }),
      };
      if (which === 'after') return { after };
      return which === 'before' ? { before } : { before, after };
    });

const workRecord = (): fc.Arbitrary<Paper> =>
  fc
    .tuple(
      head(),
      people(),
      fc.record({
        ticketNumber: fc.constant('5518'),
        sequence: fc.integer({ min: 1, max: 4 }),
        issuedText: fc.constant('July 16, 2026'),
        complaint: sentence(),
        complaintGone: fc.constantFrom('yes' as const, 'no' as const, 'not_tried' as const),
        systems: systems(),
        visits: fc.array(
          fc.record({
            dayText: fc.constant('July 14, 2026'),
            technician: name(),
            certificate: maybe(name()),
          }),
          { maxLength: 4 },
        ),
        works: fc.array(
          fc.record({
            name: sentence(),
            explanation: sentence(),
            system: maybe(name()),
            outcome: outcome(),
            readings: fc.array(beforeAfter(), { maxLength: 4 }),
            observations: sentences(),
            doubts: maybe(sentences()),
            parts: counted(
              fc.record({
                name: sentence(),
                quantityText: fc.constantFrom('1 piece', '1.5 lb'),
                serial: maybe(name()),
                oldPart: fc.constantFrom(
                  'given_to_customer' as const,
                  'customer_did_not_want_it' as const,
                  'kept_for_claim' as const,
                  'none' as const,
                ),
                oldSerial: maybe(name()),
              }),
            ),
            partsLeftOver: fc.array(
              fc.record({
                name: sentence(),
                quantityText: fc.constant('1 piece'),
                reason: sentence(),
              }),
              { maxLength: 2 },
            ),
          }),
          { maxLength: 3 },
        ),
        measuredAfter: maybe(fc.array(sentence(), { maxLength: 5 })),
        noReadingsWhy: maybe(sentence()),
        refrigerantMoves: fc.array(
          fc.record({
            dayText: fc.constant('July 16, 2026'),
            system: name(),
            refrigerant: fc.constantFrom('R-410A', 'R-22'),
            direction: fc.constantFrom('charged' as const, 'recovered' as const),
            weightText: fc.constantFrom('2 lb 4.0 oz', '0 lb 0.5 oz'),
            cylinder: name(),
            certificate: name(),
          }),
          { maxLength: 4 },
        ),
        conditionLeft: sentence(),
        dangerWarned: maybe(sentence()),
      }),
    )
    .map(([head, people, own]) => ({ kind: 'work_record', paper: { ...head, ...people, ...own } }));
