import type { Criterion, Measurement } from '../trade/index.ts';
import { paperSentence, sentencesIn } from './paper-sentence.ts';

/**
 * What was seen, and the figures of signs that only together tell. What a gauge shows is not said
 * again, and neither is a sign that rests on nothing but what a stronger one already told.
 */
export function paperFacts(met: readonly Criterion[], drawn: readonly Measurement[]): string[] {
  const statements: string[] = [];
  const figures = new Map<string, string>();
  for (const criterion of signsToSay(met)) {
    statements.push(paperSentence(criterion.statement));
    for (const sentence of sentencesIn(criterion.detail)) {
      const figure = figureIn(sentence);
      if (figure === undefined || isDrawn(figure, drawn)) continue;
      const { what, value, rest } = figure;
      const known = figures.get(`${what} ${value}`);
      // What is usual says more than one limit of it.
      if (known === undefined || rest.startsWith('usual')) {
        figures.set(`${what} ${value}`, paperSentence(`${what}: ${value}; ${rest}`));
      }
    }
  }
  return [...new Set([...statements, ...figures.values()])];
}

/** The signs that are said in words: what a gauge shows whole needs none, nor what is no news. */
export function signsToSay(met: readonly Criterion[]): Criterion[] {
  return withNews(met).filter(
    ({ measurement, detail }) => measurement === undefined || sentencesIn(detail).length > 1,
  );
}

/** Decisive signs first, each with something that none before it rests on. */
function withNews(met: readonly Criterion[]): Criterion[] {
  const decisiveFirst = [
    ...met.filter(({ weight }) => weight === 'decisive'),
    ...met.filter(({ weight }) => weight === 'indicative'),
  ];
  const told = new Set<string>();
  return decisiveFirst.filter(({ readingIds, observationIds }) => {
    const restsOn = [...readingIds, ...observationIds];
    const isNews = restsOn.some((id) => !told.has(id));
    for (const id of restsOn) told.add(id);
    return isNews;
  });
}

type Figure = { what: string; value: string; rest: string };

/** '9.4 V measured by multimeter, drop of a closed pole; 3.00 V is the limit.' taken apart. */
function figureIn(sentence: string): Figure | undefined {
  const found = /^(\S+ .+?) measured [^,;]+, ([^;]+); (.+)$/.exec(sentence);
  const [, value, what, rest] = found ?? [];
  if (value === undefined || what === undefined || rest === undefined) return undefined;
  return {
    what: what.charAt(0).toUpperCase() + what.slice(1),
    value,
    rest: rest.replace(/^(.+) is the limit/, 'compared with $1'),
  };
}

function isDrawn({ value }: Figure, drawn: readonly Measurement[]): boolean {
  const shown = Number.parseFloat(value);
  const digits = /\.(\d+)/.exec(value)?.[1]?.length ?? 0;
  return drawn.some((measurement) => Number(measurement.value.toFixed(digits)) === shown);
}
