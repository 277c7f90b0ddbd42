import { describe, expect, it } from 'vitest';
import { paperFinding } from '../../src/quotes/paper-finding.ts';
import { paperFindingInSpanish } from '../../src/quotes/paper-finding-in-spanish.ts';
import { findingOf } from './describe-finding.ts';
import { found, foundPaper, goldenEvidence } from './found-papers.ts';

describe("a finding on the customer's paper", () => {
  it('shows the figures of a dirty coil that a photo and a high head prove together', () => {
    const { measurements, observations } = paperFinding(found.dirtyCoil);
    expect(measurements).toMatchObject([
      { label: 'Condensing over outdoor air', limitText: 'Should be 15 to 20 °F' },
    ]);
    expect(observations).toContain('A photo shows the outdoor coil matted, and the head is high.');
  });

  it('shows every figure that proves a low charge, each once', () => {
    const { measurements, observations } = paperFinding(found.lowCharge);
    expect(measurements.map(({ label }) => label)).toEqual(['Subcooling']);
    expect(observations.slice(1)).toEqual([
      'Superheat: 32.0 °F; usual is 4.0 °F to 25.0 °F.',
      'Return air over suction saturation: 46.0 °F; compared with 30.0 °F.',
      'Condensing over outdoor air: 10.0 °F; compared with 20.0 °F.',
      'Air split less its target: −7.2 °F; usual is −3.0 °F to 3.0 °F.',
    ]);
  });

  it('says a voltage that its gauge shows no second time', () => {
    const { measurements, observations } = paperFinding(found.wornContactor);
    expect(measurements).toMatchObject([
      { value: 9.4, unit: 'V', limitText: 'Should be 3 V or less' },
    ]);
    expect(observations.join()).not.toContain('9.4');
  });

  it('names what the readings left open, and never what a technician is to do', () => {
    const withoutPhoto = goldenEvidence('outdoor-coil-matted');
    const finding = findingOf('dirty_outdoor_coil', 'clean_outdoor_coil', {
      ...withoutPhoto,
      observations: withoutPhoto.observations.map(({ photoSha256: _, ...seen }) => seen),
    });
    expect(finding.doubts).toContain('Take a photo of the matted coil.');
    const { doubts } = paperFinding(finding);
    expect(doubts).toContain(
      'We could not tell whether this is so: “A photo shows the outdoor coil matted, and the head is high.”',
    );
    expect(doubts.join(' ')).not.toMatch(/Take a photo|Record|Measure/);
  });

  it('names what speaks against a proven fault as its doubt, and not once more as what was seen', () => {
    const evidence = goldenEvidence('capacitor-bulged-photo');
    const finding = findingOf('run_capacitor_herm', 'replace_dual_run_capacitor', evidence);
    const { standing, doubts, observations } = paperFinding(finding);
    expect(standing).toBe('proven');
    expect(doubts).toEqual([
      'With the contactor pushed in by hand both motors start: the capacitor is not dead, though it may be weak.',
    ]);
    expect(observations).toEqual([
      'The capacitor that serves the compressor is bulged or leaking.',
    ]);
    const spanish = paperFindingInSpanish({ ...finding, readings: evidence.readings });
    expect(spanish.doubts).toHaveLength(1);
    expect(spanish.observations).toEqual([
      'El capacitor que sirve al compresor está inflado o tira aceite.',
    ]);
  });

  it('tells what speaks against work that the owner offers all the same, and what was not done', () => {
    expect(paperFinding(found.soundCompressor)).toMatchObject({
      standing: 'contradicted',
      speaksAgainst: 'An insulation tester shows more than two megohms to ground.',
      offeredBecause: 'The customer asked for a new compressor before she sells the house.',
      doubts: [expect.stringMatching(/^Not on record: Its windings were measured too/)],
      measurements: [
        { value: 250, unit: 'MΩ', limitText: 'Should be 2 MΩ or more', verdict: 'within' },
      ],
    });
  });

  it('never prints a figure with more digits than a meter shows', () => {
    const texts = foundPaper.findings.flatMap(({ doubts, observations, measurements }) => [
      ...doubts,
      ...observations,
      ...measurements.map(({ limitText }) => limitText),
    ]);
    expect(texts.length).toBeGreaterThan(10);
    for (const text of texts) expect(text).not.toMatch(/\d\.\d{4,}|\d{7,}| F\b| uF\b| ohm/);
  });
});
