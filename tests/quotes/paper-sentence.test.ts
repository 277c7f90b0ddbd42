import { describe, expect, test } from 'vitest';
import { paperSentence, sentencesIn } from '../../src/quotes/paper-sentence.ts';

describe('a sentence of a verdict on paper has the units people write', () => {
  test.each([
    [
      '31.2 F measured by gauge; usual is 4.0 F to 25.0 F; this method is good to 1.4 F.',
      '31.2 °F measured by gauge; usual is 4.0 °F to 25.0 °F.',
    ],
    ['it is 0.85 in. w.c.; this method is good to 0.02 in. w.c.', 'it is 0.85 in. w.c.'],
    ['27.440507429637126 psi is outside the table.', '27.44 psi is outside the table.'],
    [
      '250000000 ohm measured with an insulation tester.',
      '250 MΩ measured with an insulation tester.',
    ],
    ['0.50 ohm is the limit.', '0.5 Ω is the limit.'],
    [
      '45 uF +/-6 %, 500 microns, 1180 CFM, 67.2 oz, 25 ft.',
      '45 µF ±6 %, 500 microns, 1180 CFM, 67.2 oz, 25 ft.',
    ],
    ['-7.2 F less than that.', '−7.2 °F less than that.'],
  ])('%s', (said, printed) => {
    expect(paperSentence(said)).toBe(printed);
  });

  test('and ends where it ends, not at the stop of a unit', () => {
    expect(
      sentencesIn('0.85 in. w.c. measured by manometer. 12.0 F more. The filter is dirty.'),
    ).toEqual(['0.85 in. w.c. measured by manometer.', '12.0 F more.', 'The filter is dirty.']);
  });
});
