import { knownRefrigerant, type RefrigerantCode, refrigerants } from '../trade/index.ts';
import { warmingPotentialText } from './warming-potential.ts';

/** What the law says of the refrigerant in a machine: a fact with where it stands, no advice. */
export interface SourcedFact {
  sentence: string;
  source: string;
}

/** The situation of the refrigerant on a nameplate. None of it speaks against a repair. */
export function refrigerantFacts(onPlate: string | undefined): SourcedFact[] {
  if (onPlate === undefined) {
    return [{ sentence: 'The refrigerant of the nameplate is not recorded.', source: noSource }];
  }
  const code = knownRefrigerant(onPlate);
  if (code === undefined) {
    return [{ sentence: `Of ${onPlate} nothing is recorded here.`, source: noSource }];
  }
  return [...situations[code], ...(refrigerants[code].safetyGroup === 'A1' ? [neverA2l] : [])];
}

const noSource = 'no source';

const goesOn: SourcedFact = {
  sentence: 'Service of what stands goes on, and refrigerant for it is sold.',
  source: 'from memory of 40 CFR 84 subpart B, which limits new products and systems',
};

const limitedWhenNew = (code: RefrigerantCode): SourcedFact => ({
  sentence: `New air conditioning for homes and light commerce may not hold a refrigerant with a warming potential of 700 or more if it is made or imported from January 1, 2025; ${code} has ${warmingPotentialText[code]}.`,
  source: '40 CFR 84.54 (AIM Act); the figure from memory of IPCC AR4',
});

const belowLimit = (code: RefrigerantCode): SourcedFact => ({
  sentence: `${code} has a warming potential of ${warmingPotentialText[code]}, below the 700 from which new air conditioning for homes and light commerce is barred.`,
  source: '40 CFR 84.54 (AIM Act); the figure from memory of IPCC AR4',
});

const burns = (code: RefrigerantCode): SourcedFact => ({
  sentence: `${code} can burn: service takes tools and a leak detector made for it, and no other refrigerant.`,
  source: 'from memory of ASHRAE Standard 34; common practice',
});

const neverA2l: SourcedFact = {
  sentence: 'A refrigerant that can burn (A2L) never goes into this machine.',
  source: '40 CFR 82 subpart G, appendix W',
};

const situations: Record<RefrigerantCode, readonly SourcedFact[]> = {
  'R-22': [
    {
      sentence: 'R-22 has not been made in or imported into the United States since 2020.',
      source: 'from memory of 40 CFR 82.15 and 82.16',
    },
    {
      sentence: 'Service goes on with what was recovered, reclaimed or stocked before.',
      source: 'from memory of 40 CFR 82 subparts A and F',
    },
  ],
  'R-410A': [goesOn, limitedWhenNew('R-410A')],
  'R-407C': [goesOn, limitedWhenNew('R-407C')],
  'R-134a': [goesOn, limitedWhenNew('R-134a')],
  'R-32': [belowLimit('R-32'), burns('R-32')],
  'R-454B': [belowLimit('R-454B'), burns('R-454B')],
};
