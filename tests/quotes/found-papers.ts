import { readFileSync } from 'node:fs';
import { z } from 'zod';
import type { QuotePaper } from '../../src/documents/index.ts';
import type { DescribedFinding } from '../../src/quotes/compose-paper.ts';
import { paperFinding } from '../../src/quotes/paper-finding.ts';
import { type Evidence, evidenceSchema } from '../../src/trade/index.ts';
import { capacitorAndContactor } from '../documents/sample-papers.ts';
import { findingOf } from './describe-finding.ts';

/** What was recorded in one of the golden cases. */
export function goldenEvidence(name: string): Evidence {
  const file = new URL(`../trade/golden/evidence-1/${name}.json`, import.meta.url);
  return z.object({ evidence: evidenceSchema }).parse(JSON.parse(readFileSync(file, 'utf8')))
    .evidence;
}

/** Invented findings, each weighed by the rules from what was recorded. */
export const found = {
  dirtyCoil: findingOf(
    'dirty_outdoor_coil',
    'clean_outdoor_coil',
    goldenEvidence('outdoor-coil-matted'),
  ),
  lowCharge: findingOf('low_charge', 'add_refrigerant', goldenEvidence('charge-low-by-readings')),
  wornContactor: findingOf('worn_contactor', 'replace_contactor', contactorLosing(9.4)),
  burntContactor: findingOf('worn_contactor', 'replace_contactor', contactorLosing(118)),
  soundCompressor: findingOf(
    'compressor_grounded',
    'replace_compressor',
    goldenEvidence('compressor-insulation-sound'),
    { overrideReason: 'The customer asked for a new compressor before she sells the house.' },
  ),
} satisfies Record<string, DescribedFinding>;

/** A paper of these findings; its prices are those of another one. */
export const foundPaper: QuotePaper = {
  ...capacitorAndContactor,
  quoteNumber: 'Q-10048',
  findings: Object.values(found).map((finding) => paperFinding(finding)),
};

function contactorLosing(volts: number): Evidence {
  const evidence = goldenEvidence('contactor-worn');
  return {
    ...evidence,
    readings: evidence.readings.map((reading) =>
      reading.point.startsWith('contactor_pole') ? { ...reading, value: volts } : reading,
    ),
  };
}
