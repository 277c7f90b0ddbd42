import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { setApart, withoutDirectionMarks } from '../../src/documents/direction-marks.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import { openPaperFaces } from '../../src/documents/paper-faces.ts';
import { TYPE } from '../../src/documents/paper-style.ts';
import { type LineRun, setLine } from '../../src/documents/set-line.ts';
import { wrapText } from '../../src/documents/wrap-text.ts';
import { hanNames, lettersOf, promisedScripts } from './promised-scripts.ts';

function said(run: LineRun): string {
  if (run.kind === 'script') return run.glyphs.map(({ text }) => text).join('');
  const points = run.words.flatMap(({ glyphs }) => glyphs.flatMap(({ codePoints }) => codePoints));
  return String.fromCodePoint(...points);
}

/** The letters of a line as the eye meets them from left to right. */
async function seen(line: string): Promise<string> {
  const runs = setLine(line, 'regular', await openPaperFaces([line]));
  return [...runs]
    .sort((one, other) => one.xEm - other.xEm)
    .map(said)
    .join('');
}

/** Orders as the Unicode Bidirectional Algorithm has them (Unicode Standard Annex 9), by hand. */
describe('a name that is read from right to left', () => {
  const david = setApart('דוד');
  const levi = setApart('לוי 7');

  it.each([
    ['stands turned around by itself', david, 'דוד'],
    ['leaves the words beside it', `Paid by ${david} today`, 'Paid by דוד today'],
    ['leaves an amount after it', `${david}, $12.50 due`, 'דוד, $12.50 due'],
    ['leaves an amount between two', `${david} $12.50 ${levi}`, 'דוד $12.50 7 יול'],
    ['has its own number within', `${levi}: 3 × 4`, '7 יול: 3 × 4'],
    ['has Latin letters within', setApart('דוד ACME לוי'), 'יול ACME דוד'],
    ['turns its brackets', setApart('דוד (לוי)'), '(יול) דוד'],
    ['stays within a name that begins in Latin', setApart('ACME דוד 7'), 'ACME 7 דוד'],
  ])('%s', async (_, line, order) => {
    expect(await seen(line)).toBe(order);
  });

  it('cannot bring marks of its own', () => {
    expect(setApart('plain 7')).toBe('plain 7');
    expect(withoutDirectionMarks(david)).toBe('דוד');
  });
});

describe('a line in another script', () => {
  const names = [...promisedScripts.flatMap(({ names }) => names), ...hanNames];

  it.each(names)('is as wide as it is drawn, and says what it says: %s', async (name) => {
    const faces = await openPaperFaces([name]);
    const runs = setLine(`by ${name}, $5`, 'semibold', faces);
    const ends = runs.map(({ xEm, widthEm }) => xEm + widthEm);
    const measured = createMeasureText(faces)(`by ${name}, $5`, TYPE.strong) / TYPE.strong.sizePt;
    expect(Math.max(...ends)).toBeCloseTo(measured, 9);
    const isFromRight = /[\u0590-\u06ff]/.test(name);
    const letters = Array.from(runs.map(said).join('').normalize('NFC'));
    const wanted = Array.from(`by ${name}, $5`.normalize('NFC'));
    if (isFromRight) expect(letters.sort()).toEqual(wanted.sort());
    else expect(letters).toEqual(wanted);
  });
});

describe('a text in another script on several lines', () => {
  const texts = fc
    .constantFrom(...promisedScripts.map(lettersOf), Array.from(hanNames.join('')))
    .chain((letters) =>
      fc.string({
        unit: fc.oneof(
          { weight: 9, arbitrary: fc.constantFrom(...letters) },
          { weight: 2, arbitrary: fc.constantFrom(' ', '7', '.', 'a') },
        ),
        minLength: 1,
        maxLength: 60,
      }),
    )
    .map((text) => text.normalize('NFC').replace(/ +/g, ' ').trim());

  it('loses no letter and stays within its column', async () => {
    await fc.assert(
      fc.asyncProperty(texts, async (text) => {
        const faces = await openPaperFaces([text]);
        const measure = createMeasureText(faces);
        const lines = wrapText(setApart(text), TYPE.body, 80, measure);
        const joined = lines.map(withoutDirectionMarks).join('');
        expect(joined.replace(/ /g, '')).toBe(text.replace(/ /g, ''));
        for (const line of lines) {
          const widthPt = measure(line.replace(/ $/, ''), TYPE.body);
          const isOneLetter = [...new Intl.Segmenter().segment(line.trim())].length <= 3;
          if (!isOneLetter) expect(widthPt).toBeLessThanOrEqual(80.001);
        }
      }),
      { numRuns: 150 },
    );
  }, 60_000);

  it('is broken between ideographs, yet never before what closes a sentence', async () => {
    const text = '配管が詰まっています。'.repeat(6);
    const measure = createMeasureText(await openPaperFaces([text]));
    const lines = wrapText(text, TYPE.body, 100, measure);
    expect(lines.length).toBeGreaterThan(4);
    expect(lines.join('')).toBe(text);
    for (const line of lines) expect(line).not.toMatch(/^。/);
    for (const line of lines.slice(0, -1)) {
      expect(measure(line, TYPE.body)).toBeGreaterThan(100 - 3 * TYPE.body.sizePt);
    }
  });

  it('stays set apart from line to line, and its lines end in the space outside', async () => {
    const text = setApart('דוד לוי 7 שרה כהן 8 '.repeat(8).trim());
    const measure = createMeasureText(await openPaperFaces([text]));
    const lines = wrapText(text, TYPE.body, 120, measure);
    expect(lines.length).toBeGreaterThan(3);
    for (const line of lines) expect(line).toMatch(/^\u2067[^\u2066-\u2069]+\u2069 ?$/);
  });
});
