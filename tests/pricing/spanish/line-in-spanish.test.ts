import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { Line, PricedQuote } from '../../../src/pricing/priced-quote.ts';
import { type PricingInputs, pricingInputsSchema } from '../../../src/pricing/pricing-inputs.ts';
import { pricingRulesets, pricingRulesetVersions } from '../../../src/pricing/rulesets.ts';
import { lineInSpanish } from '../../../src/pricing/spanish/line-in-spanish.ts';
import { englishWordsIn } from '../../trade/spanish/english-words.ts';
import { arbitraryInputs } from '../arbitrary-inputs.ts';
import { price } from '../price.ts';
import { figuresIn } from './figures-in.ts';

/** Every line of a quote in both languages, and those of a no. */
function bothLanguages(quote: PricedQuote, inputs: PricingInputs) {
  const { laborRateCents } = quote;
  const taskName = ({ name }: { name: string }) => name;
  const of = (lines: readonly Line[], work: PricingInputs['options'][number]['work']) =>
    lines.map((line) => ({
      line,
      spanish: lineInSpanish(line, { lines, work, inputs, laborRateCents, taskName }),
    }));
  return [
    ...of(quote.decline.lines, []),
    ...quote.options.flatMap(({ lines }, at) => of(lines, inputs.options[at]?.work ?? [])),
  ];
}

/** Lines of which one language says a figure that the other does not. */
function differing(quote: PricedQuote, inputs: PricingInputs) {
  return bothLanguages(quote, inputs).flatMap(({ line, spanish }) => {
    const english = figuresIn(line.why.sentence);
    const own = figuresIn(spanish.sentence);
    return JSON.stringify(english) === JSON.stringify(own)
      ? []
      : [{ english: line.why.sentence, spanish: spanish.sentence }];
  });
}

describe('a Spanish reason says every amount, share and measure of the English one, and no other', () => {
  const corpus = fileURLToPath(new URL('../golden', import.meta.url));

  it.each(
    pricingRulesetVersions.flatMap((version) =>
      readdirSync(`${corpus}/${version}`).map((name) => [version, name] as const),
    ),
  )('%s: %s', (version, name) => {
    const file = readFileSync(`${corpus}/${version}/${name}`, 'utf8');
    const inputs = pricingInputsSchema.parse(JSON.parse(file).inputs);
    const result = pricingRulesets[version].priceQuote(inputs);
    if (result.outcome === 'refused') return;
    expect(differing(result.quote, inputs)).toEqual([]);
  });

  it('of any quote', () => {
    const told = new Set<string>();
    fc.assert(
      fc.property(arbitraryInputs({ mistakes: false, adjustments: true }), (plain) => {
        const result = price(plain);
        if (result.outcome === 'refused') return;
        const inputs = pricingInputsSchema.parse(plain);
        expect(differing(result.quote, inputs)).toEqual([]);
        for (const { line } of bothLanguages(result.quote, inputs)) {
          told.add(line.code === 'agreement_discount' ? line.code : line.kind);
        }
      }),
      { numRuns: 400 },
    );
    expect([...told].toSorted()).toEqual(
      ['access', 'adjustment', 'agreement_discount', 'credit', 'discount', 'good', 'labor'].concat([
        'part',
        'tax',
        'visit_fee',
      ]),
    );
  });
});

test('beside what the owner typed, no word of it is English and no text is empty', () => {
  fc.assert(
    fc.property(arbitraryInputs({ mistakes: false, adjustments: true }), (plain) => {
      const named = withSpanishNames(plain);
      const result = price(named);
      if (result.outcome === 'refused') return;
      const said = bothLanguages(result.quote, pricingInputsSchema.parse(named)).flatMap(
        ({ spanish }) => [spanish.description, spanish.sentence],
      );
      expect(said.filter((text) => text.trim() === '' || text.includes('undefined'))).toEqual([]);
      expect(said.filter((text) => englishWordsIn(text).length > 0)).toEqual([]);
    }),
    { numRuns: 200 },
  );
});

/** The same quote as a Spanish-speaking owner would have named things. */
function withSpanishNames<Inputs extends object>(inputs: Inputs): Inputs {
  const typed = new Set(['name', 'taskName', 'title', 'reason']);
  return JSON.parse(
    JSON.stringify(inputs, (key, value) => (typed.has(key) ? 'Nombre propio' : value)),
  );
}

test.each([
  ['charged with quote 1042', 'Sin tarifa de visita: se cobró con el presupuesto 1042.'],
  [
    'one fee for the trip, with ticket 12',
    'Sin tarifa de visita: una sola tarifa por el viaje, con la orden de servicio 12.',
  ],
  [
    'it was booked without one, and we moved it',
    'Sin tarifa de visita: se reservó sin ella y la cita la cambiamos nosotros.',
  ],
  ['a callback has no fee', 'Sin tarifa de visita: volver por el mismo problema no tiene tarifa.'],
  [
    'maintenance under the agreement has no fee',
    'Sin tarifa de visita: el mantenimiento del contrato no tiene tarifa.',
  ],
  ['Regalo de la casa', 'Sin tarifa de visita: Regalo de la casa.'],
])('a visit without a fee says why: %s', (reason, sentence) => {
  const [plain] = fc.sample(arbitraryInputs({ mistakes: false, adjustments: false }), {
    numRuns: 1,
    seed: 1,
  });
  if (plain === undefined) throw new Error('no sample');
  const inputs = pricingInputsSchema.parse({ ...plain, visitFee: { chargeable: false, reason } });
  const result = pricingRulesets['pricing-1'].priceQuote(inputs);
  if (result.outcome === 'refused') throw new Error('refused');
  const fee = bothLanguages(result.quote, inputs).find(({ line }) => line.kind === 'visit_fee');
  expect(fee?.spanish.sentence).toBe(sentence);
});
