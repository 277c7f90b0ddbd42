import { expect, test } from 'vitest';
import {
  causeSearch,
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { atMinute, degF } from '../../make-circuit.ts';
import { ohms, outdoorUnit, type Sign, saw } from '../../make-evidence.ts';

const commonReadsOpen = (answer: 'yes' | 'no', minute = 0) =>
  saw('compressor_common_reads_open', answer, { at: atMinute(minute) });
const cooledDown = saw('compressor_cooled_down', 'yes', { at: atMinute(45) });
const commonOpen = commonReadsOpen('yes');
const runStart = ohms('compressor_r_to_s', 2.9);
const shell = (value: number) => degF('compressor_shell', value);

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'common open, run to start closed, shell hot',
    [commonOpen, runStart, shell(190)],
    'proven',
    'proven',
  ],
  [
    'run to start closed by the word of the technician',
    [commonOpen, saw('compressor_run_to_start_reads_open', 'no'), shell(190)],
    'proven',
    'proven',
  ],
  ['nobody measured the shell', [commonOpen, runStart], 'supported', 'supported'],
  ['the shell is cool', [commonOpen, runStart, shell(95)], 'supported', 'supported'],
  ['run to start not measured', [commonOpen, shell(190)], 'unproven', 'undecided by this method'],
  [
    'open, and closed again when it had cooled',
    [commonOpen, cooledDown, commonReadsOpen('no', 46)],
    'proven',
    'proven',
  ],
  [
    'open, then closed, and nobody says that it cooled',
    [commonOpen, commonReadsOpen('no', 46)],
    'unproven',
    'undecided by this method',
  ],
  [
    'never open',
    [commonReadsOpen('no'), ohms('compressor_c_to_r', 0.8), ohms('compressor_c_to_s', 2.1)],
    'contradicted',
    'contradicted',
  ],
  [
    'a winding is open too',
    [commonOpen, saw('compressor_run_to_start_reads_open'), shell(190)],
    'contradicted',
    'contradicted',
  ],
  [
    'run to start read open and closed',
    [commonOpen, saw('compressor_run_to_start_reads_open'), runStart, shell(190)],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'it stops by itself after a while',
    [saw('compressor_stops_on_overload')],
    'supported',
    'supported',
  ],
  ['it runs', [saw('compressor_running')], 'unproven', 'leans against'],
];
test.each(rows)('overload: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('an open overload asks for the look at what overheats the compressor', () => {
  const observations = (signs: Sign[]) => outdoorUnit(signs).observations;
  expect(causeSearch('compressor_overload_open', observations([commonOpen]))).toBe('missing');
  const looked = [saw('overload_cause_looked_for')];
  expect(causeSearch('compressor_overload_open', observations(looked))).toBe('recorded');
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_overload_open', evidence);
}
