import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { z } from 'zod';
import { nameplateColumns } from '../../src/equipment/nameplate.ts';
import { type PricingInputs, priceQuote, pricingInputsSchema } from '../../src/pricing/index.ts';
import { aboutReplacing } from '../../src/quotes/about-replacing.ts';
import {
  type BilingualPaper,
  composeBothPapers,
  type FoundForPaper,
  type UnhashedPaper,
} from '../../src/quotes/compose-paper.ts';
import { paperFindingInSpanish } from '../../src/quotes/paper-finding-in-spanish.ts';
import { paperPriceDifferences } from '../../src/quotes/paper-price-differences.ts';
import { repairOrReplace } from '../../src/repair-or-replace/index.ts';
import { evidenceSchema, faultCatalog, faultCodeSchema } from '../../src/trade/index.ts';
import { arbitraryInputs } from '../pricing/arbitrary-inputs.ts';
import { figuresIn } from '../pricing/spanish/figures-in.ts';
import { machineOf, repairFor } from '../repair-or-replace/facts.ts';
import { englishWordsIn } from '../trade/spanish/english-words.ts';
import { findingOf } from './describe-finding.ts';
import { found, goldenEvidence } from './found-papers.ts';

const evidenceCorpus = new URL('../trade/golden/evidence-1/', import.meta.url);
const pricingCorpus = new URL('../pricing/golden/pricing-1/', import.meta.url);
const frozenBefore = new URL('./papers-of-before/', import.meta.url);
const papersOfBefore = readdirSync(frozenBefore);

/** Every golden case as a finding, sold for whatever reason its owner gives. */
const goldenFindings: readonly FoundForPaper[] = readdirSync(evidenceCorpus).map((name) => {
  const { faultCode, evidence } = z
    .object({ faultCode: faultCodeSchema, evidence: evidenceSchema })
    .parse(JSON.parse(readFileSync(new URL(name, evidenceCorpus), 'utf8')));
  const fault = faultCatalog.find(({ code }) => code === faultCode);
  const [remedy] = fault?.remedies ?? [];
  if (remedy === undefined) throw new Error(`${faultCode} has no remedy`);
  const more = { id: name, overrideReason: 'Nombre propio' };
  return {
    ...findingOf(faultCode, remedy.task, evidence, more),
    readings: evidence.readings,
  };
});

const goldenInputs: readonly PricingInputs[] = readdirSync(pricingCorpus).flatMap((name) => {
  const { inputs } = JSON.parse(readFileSync(new URL(name, pricingCorpus), 'utf8'));
  return [pricingInputsSchema.parse(inputs)];
});

/** The same quote as a Spanish-speaking owner would have named things. */
function withSpanishNames<Inputs extends object>(inputs: Inputs): Inputs {
  const typed = new Set(['name', 'taskName', 'title', 'reason']);
  return JSON.parse(
    JSON.stringify(inputs, (key, value) => (typed.has(key) ? 'Nombre propio' : value)),
  );
}

/** Every text and number in a piece of a paper, by its place. */
function leavesOf(place: string, value: unknown): [string, string | number][] {
  if (typeof value === 'string' || typeof value === 'number') return [[place, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, each]) => leavesOf(`${place}.${name}`, each));
}

function pricesOf({ options, decline }: UnhashedPaper) {
  return leavesOf('', { options, decline });
}

/** A place of the Spanish prices that says another figure than the English one. */
function differing(paper: BilingualPaper) {
  const english = pricesOf(paper);
  const spanish = pricesOf(paper.inSpanish);
  expect(spanish.map(([place]) => place)).toEqual(english.map(([place]) => place));
  return english.flatMap(([place, said], at) => {
    const own = spanish[at]?.[1];
    const isSame =
      typeof said === 'number'
        ? said === own
        : JSON.stringify(figuresIn(said)) === JSON.stringify(figuresIn(String(own)));
    return isSame ? [] : [{ place, said, own }];
  });
}

const talks = repairOrReplace(machineOf(12), repairFor(500), []);

const createdAt = new Date('2026-07-01T12:00:00Z');

const equipment = [
  {
    ...nameplateColumns({
      tons: 3,
      capacitorHermUf: 45,
      capacitorFanUf: 5,
      capacitorVolts: 440,
      capacitorTolerancePercent: 6,
      refrigerant: 'R-410A',
    }),
    id: 'unit-1',
    systemId: 'system-1',
    kind: 'condensing_unit',
    maker: 'Example',
    model: 'EX-36',
    serial: null,
    installedOn: null,
    partsWarrantyUntil: null,
    compressorWarrantyUntil: null,
    laborWarrantyUntil: null,
    version: 1,
    createdAt,
    system: { id: 'system-1', siteId: 'site-1', name: 'Planta alta', version: 1, createdAt },
  },
];

/** The papers of these findings at this price; undefined where the price is refused. */
function papersOf(inputs: PricingInputs, findings: readonly FoundForPaper[] = []) {
  const result = priceQuote(inputs);
  if (result.outcome === 'refused') return undefined;
  const options = [
    {
      optionId: 'option-1',
      position: 1,
      title: 'Nombre propio',
      installsEquipment: false,
      machines: [{ equipmentId: 'unit-1', ...talks }],
    },
  ];
  const paper = composeBothPapers({
    company: {
      name: 'Cedar Street',
      street: '120 Calle Ejemplo',
      city: 'Sampleton',
      region: 'TX',
      postalCode: '75000',
      phone: '(555) 555-0140',
      email: 'service@example.com',
      timeZone: 'America/Chicago',
      licenseNumber: 'EXAMPLE-1',
      regulator: 'Regulador',
      defaultJurisdiction: 'TX',
    },
    number: 1042,
    revision: 1,
    issuedAt: new Date('2026-07-15T18:00:00Z'),
    validUntil: new Date('2026-08-15T05:00:00Z'),
    inputs,
    quote: result.quote,
    approver: { name: 'Winifred Ashgrove' },
    occupant: { name: 'Winifred Ashgrove' },
    site: { street: '48 Sample Lane', city: 'Sampleton', region: 'TX', postalCode: '75001' },
    equipment,
    findings,
    aboutReplacing: { en: aboutReplacing(options, 'en'), es: aboutReplacing(options, 'es') },
    changes: { number: 1041, agreedCents: 29_045, hasGrown: false },
  });
  return { paper, quote: result.quote };
}

const dearestInputs = arbitraryInputs({ mistakes: false, adjustments: true }).map((plain) =>
  pricingInputsSchema.parse(plain),
);

describe('the Spanish paper says every amount, share and measure of the English one', () => {
  it('in every golden case of a price', () => {
    const papers = goldenInputs.flatMap((inputs) => papersOf(inputs) ?? []);
    expect(papers.length).toBeGreaterThan(25);
    expect(papers.flatMap(({ paper }) => differing(paper))).toEqual([]);
  });

  it('of any quote', () => {
    fc.assert(
      fc.property(dearestInputs, (inputs) => {
        const papers = papersOf(inputs);
        if (papers !== undefined) expect(differing(papers.paper)).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  it('for a new machine beside the repair, too', () => {
    const [block] = papersOfFirst().paper.legalTexts.filter(({ text }) => text.includes('times'));
    const [own] = papersOfFirst().paper.inSpanish.legalTexts.filter(({ text }) =>
      text.includes('años'),
    );
    expect(own?.text).toContain('12 años por $500.00 son $6,000.00, más de $5,000.00.');
    expect(figuresIn(own?.text ?? '')).toEqual(figuresIn(block?.text ?? ''));
  });
});

describe('beside what people typed, nothing in the Spanish paper is English, empty or broken', () => {
  const isBroken = (text: string) =>
    text.trim() === '' ||
    /undefined|\[object|NaN|null/.test(text) ||
    englishWordsIn(text).length > 0;

  it.each(goldenFindings.map((finding) => [finding.id, finding] as const))(
    'as it tells of %s',
    (_name, finding) => {
      const told = leavesOf('', paperFindingInSpanish(finding));
      const texts = told.filter(([place]) => !/\.(standing|verdict|unit)$/.test(place));
      expect(texts.filter(([, text]) => isBroken(String(text)))).toEqual([]);
    },
  );

  it('on the whole paper', () => {
    const findings = goldenFindings.slice(0, 12);
    const papers = goldenInputs.flatMap(
      (inputs) => papersOf(withSpanishNames(inputs), findings) ?? [],
    );
    expect(papers.length).toBeGreaterThan(25);
    for (const { paper } of papers) {
      const told = leavesOf('', { ...paper.inSpanish, findings: [], language: '' });
      const texts = told.filter(([place]) => !/\.(kind|language|letter)$/.test(place));
      expect(texts.filter(([, text]) => isBroken(String(text)))).toEqual([]);
    }
  });
});

test('its days are local days in words, and its machines have Spanish names', () => {
  const { inSpanish } = papersOfFirst(goldenFindings.slice(0, 2)).paper;
  expect(inSpanish.issuedText).toBe('15 de julio de 2026');
  expect(inSpanish.validUntilText).toBe('el 14 de agosto de 2026 inclusive');
  expect(inSpanish.systems).toEqual([
    {
      name: '“Planta alta”: unidad exterior (condensadora)',
      model: 'Example EX-36',
      nameplate: [
        { label: 'Capacidad de enfriamiento', text: '3 toneladas' },
        { label: 'Capacitor de marcha', text: '45/5 µF, 440 V, ±6 %' },
        { label: 'Refrigerante', text: 'R-410A' },
      ],
    },
  ]);
});

describe('the first paragraph of a paper calls found only what the evidence carries', () => {
  const evidence = goldenEvidence('charge-low-by-readings');
  const proven = { ...found.lowCharge, readings: evidence.readings };
  const likely: FoundForPaper = { ...proven, id: 'likely', standing: 'supported' };
  const overridden: FoundForPaper = { ...found.soundCompressor, faultName: 'Grounded compressor' };
  const said = (...findings: FoundForPaper[]) => {
    const { paper } = papersOfFirst(findings);
    return [paper.summary, paper.inSpanish.summary];
  };

  test('proof is said of what is proven alone', () => {
    expect(said(proven)).toEqual([
      'We found: low charge. Below is the proof, what mending it costs, and why.',
      'Encontramos: falta de refrigerante. Abajo están las pruebas, lo que cuesta repararlo y por qué.',
    ]);
    expect(said(likely)[0]).not.toMatch(/proof/);
    expect(said(likely)[1]).not.toMatch(/pruebas/);
  });

  test('what the owner offers against the evidence is said to be that', () => {
    const [english, spanish] = said(overridden);
    expect(english).toMatch(
      /^Not proven, and offered for the owner’s reason: grounded compressor\./,
    );
    expect(english).not.toMatch(/found|proof/);
    expect(spanish).toMatch(/^No comprobado, y ofrecido por la razón que da el dueño: /);
    expect(spanish).not.toMatch(/Encontramos|pruebas/);
  });

  test('beside what was found, each is said of its own', () => {
    expect(said(proven, overridden)[0]).toMatch(
      /^We found: low charge\. Not proven, and offered .*: grounded compressor\. Below is the evidence/,
    );
  });
});

test('a finding says its readings where only together they tell, and its limits in words', () => {
  const evidence = goldenEvidence('charge-low-by-readings');
  const told = paperFindingInSpanish({ ...found.lowCharge, readings: evidence.readings });
  expect(told.name).toBe('Falta de refrigerante');
  expect(told.measurements).toMatchObject([
    {
      label: 'Subenfriamiento',
      limitText: expect.stringMatching(/^Debe estar entre \d+ y \d+ °F$/),
    },
  ]);
  expect(told.observations[0]).toMatch(/^Subenfriamiento bajo y sobrecalentamiento alto a la vez/);
  expect(told.observations).toContainEqual(
    expect.stringMatching(/^Presión, puerto de servicio de succión: \d+\.?\d* psig?$/),
  );
});

test('what speaks against work that the owner offers all the same is said in Spanish, the reason as it was typed', () => {
  expect(paperFindingInSpanish(found.soundCompressor)).toMatchObject({
    standing: 'contradicted',
    speaksAgainst: 'Un probador de aislamiento marca más de 2 MΩ a tierra.',
    offeredBecause: 'The customer asked for a new compressor before she sells the house.',
    doubts: [expect.stringMatching(/^No quedó registrado: resistencia, devanado del compresor/)],
    measurements: [{ limitText: 'Debe ser 2 MΩ o más', verdict: 'within' }],
  });
});

describe('pricing an issued quote again', () => {
  const { paper, quote } = papersOfFirst();
  const [inputs] = goldenInputs;
  if (inputs === undefined) throw new Error('no golden case');

  it('finds both languages as they were issued', () => {
    expect(paperPriceDifferences(JSON.parse(JSON.stringify(paper)), quote, inputs)).toEqual([]);
  });

  it('finds a cent, and a word, that is another in Spanish alone', () => {
    const { decline } = paper.inSpanish;
    const changed = {
      ...paper,
      inSpanish: {
        ...paper.inSpanish,
        decline: { ...decline, totalCents: decline.totalCents + 1 },
      },
    };
    expect(paperPriceDifferences(changed, quote, inputs)).toMatchObject([
      { what: 'inSpanish.decline.totalCents' },
    ]);
  });

  it.each(papersOfBefore)(
    'finds a paper as it was issued before its Spanish was reworded: %s',
    (name) => {
      const { paper: frozen, inputs: stored, quote: priced } = paperOfBefore(name);
      expect(paperPriceDifferences(frozen, priced, stored)).toEqual([]);
    },
  );

  it('finds a word that was never ours on a paper of before', () => {
    const before = paperOfBefore('three-options.json');
    const frozen = JSON.stringify(before.paper);
    for (const [was, altered] of [
      ['una sola vez para todo el trabajo.', 'dos veces para todo el trabajo.'],
      ['Bandeja de drenaje (', 'Bandeja de lujo ('],
    ] as const) {
      const paper = JSON.parse(frozen.replace(was, altered));
      expect(paperPriceDifferences(paper, before.quote, before.inputs)).toHaveLength(1);
    }
  });

  it('asks no Spanish of a quote that was issued without', () => {
    const { inSpanish: _, ...english } = paper;
    expect(paperPriceDifferences(english, quote, inputs)).toEqual([]);
  });
});

/** Papers with their inputs, as the release before the rewording froze them. */
function paperOfBefore(name: string) {
  const { inputs, paper } = JSON.parse(readFileSync(new URL(name, frozenBefore), 'utf8'));
  const parsed = pricingInputsSchema.parse(inputs);
  const result = priceQuote(parsed);
  if (result.outcome === 'refused') throw new Error(`${name} is not priced any more`);
  return { paper, inputs: parsed, quote: result.quote };
}

function papersOfFirst(findings: readonly FoundForPaper[] = []) {
  const [inputs] = goldenInputs;
  const papers = inputs && papersOf(inputs, findings);
  if (papers === undefined) throw new Error('no golden case is priced');
  return papers;
}
