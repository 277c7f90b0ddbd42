import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import {
  pricingInputsSchema,
  pricingRulesets,
  pricingRulesetVersions,
} from '../../src/pricing/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { priceByHand } from './oracle/price-by-hand.ts';

const corpus = fileURLToPath(new URL('./golden', import.meta.url));

describe('a price that was given once is given again, under every later release', () => {
  it('every ruleset version has a corpus, and every corpus a version', () => {
    expect(readdirSync(corpus).sort()).toEqual([...pricingRulesetVersions].sort());
    expect(Object.keys(pricingRulesets).sort()).toEqual([...pricingRulesetVersions].sort());
  });

  describe.each(pricingRulesetVersions)('%s', (version) => {
    const names = readdirSync(`${corpus}/${version}`).sort();

    it('has cases', () => {
      expect(names.length).toBeGreaterThan(0);
    });

    it.each(names)('%s: every amount, step and word', (name) => {
      const recorded = JSON.parse(readFileSync(`${corpus}/${version}/${name}`, 'utf8'));
      const { priceQuote } = pricingRulesets[version];
      const result = priceQuote(pricingInputsSchema.parse(recorded.inputs));
      expect(JSON.parse(JSON.stringify(result))).toEqual(recorded.result);
      if (result.outcome === 'priced') {
        assertAddsUp(result.quote.decline);
        for (const option of result.quote.options) assertAddsUp(option);
      }
    });
  });

  it.each(readdirSync(`${corpus}/pricing-1`).sort())(
    '%s was recorded as the second calculation has it, not only as the engine does',
    (name) => {
      const { inputs, result } = JSON.parse(readFileSync(`${corpus}/pricing-1/${name}`, 'utf8'));
      const byHand = priceByHand(inputs);
      if ('refusals' in byHand) {
        const codes = result.refusals.map(({ code }: { code: string }) => code).sort();
        expect(codes).toEqual(byHand.refusals);
        return;
      }
      expect(result.quote).toMatchObject({
        laborRateCents: byHand.laborRateCents,
        decline: { totalCents: byHand.declineTotalCents },
        options: byHand.options.map(({ taxCents, totalCents }) => ({ taxCents, totalCents })),
      });
    },
  );
});
