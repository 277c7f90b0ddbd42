import { describe, expect, it } from 'vitest';
import type { DescribedFinding } from '../../src/quotes/compose-paper.ts';
import { findingOnPaper } from '../../src/quotes/finding-on-paper.ts';
import { paperFinding } from '../../src/quotes/paper-finding.ts';
import { paperFindingInSpanish } from '../../src/quotes/paper-finding-in-spanish.ts';
import { paperMeasurement } from '../../src/quotes/paper-measurement.ts';
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

  it('leaves nothing open of what is proven another way', () => {
    const finding: DescribedFinding = {
      ...found.dirtyCoil,
      criteria: found.dirtyCoil.criteria.map((each, at) =>
        at === 0 ? each : { ...each, outcome: 'undecided' },
      ),
    };
    const told = (standing: 'proven' | 'supported') => ({
      english: paperFinding({ ...finding, standing }).doubts.join(' '),
      spanish: paperFindingInSpanish({ ...finding, standing }).doubts.join(' '),
    });
    expect(told('supported').english).toMatch(/We could not tell/);
    expect(told('supported').spanish).toMatch(/No se pudo determinar/);
    expect(told('proven').english).not.toMatch(/We could not tell/);
    expect(told('proven').spanish).not.toMatch(/No se pudo determinar/);
  });

  it('calls a symptom unsettled until its cause is told on the same paper', () => {
    const tripped: DescribedFinding = {
      ...findingOf('tripped_breaker', 'reset_breaker', goldenEvidence('breaker-tripped')),
      equipmentId: found.dirtyCoil.equipmentId,
    };
    const notTheCause = 'A tripped breaker is not the cause: usually something drew too much';
    const tell = (...others: DescribedFinding[]) =>
      findingOnPaper.en(tripped, [tripped, ...others]);
    expect(tell().doubts.join()).toContain(notTheCause);
    expect(tell(found.dirtyCoil).doubts.join()).not.toContain(notTheCause);
    expect(tell(found.dirtyCoil).observations.join()).toContain(notTheCause);
    const elsewhere = { ...found.dirtyCoil, equipmentId: 'another' };
    expect(tell(elsewhere).doubts.join()).toContain(notTheCause);
    const denied = { ...found.dirtyCoil, standing: 'contradicted' as const };
    expect(tell(denied).doubts.join()).toContain(notTheCause);
  });

  it.each([
    [241, 'present'],
    [90, 'present'],
    [0.4, 'absent'],
  ] as const)(
    'asks of line voltage at a breaker only whether there is any: %d V',
    (value, verdict) => {
      const told = paperMeasurement({
        ...{ label: 'Line voltage', value, unit: 'V', uncertainty: 0.5, low: 20 },
      });
      expect(told).toMatchObject({ verdict, limitText: 'Whether there is any voltage' });
      expect(told).not.toHaveProperty('low');
    },
  );

  it('says of a recovered charge what all of it is, and of no plate that it is marked with a share', () => {
    const charge = {
      ...({ label: 'Recovered charge, of what is asked', value: 62, unit: '%' } as const),
      ...{ uncertainty: 3, low: 90, rated: 100 },
    };
    expect(paperMeasurement(charge).limitText).toBe(
      '100 % is what nameplate and line set ask for. Should be 90 % or more',
    );
    expect(paperMeasurement(charge, 'es').limitText).toBe(
      '100 % es lo que piden la placa de datos y la tubería. Debe ser 90 % o más',
    );
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
