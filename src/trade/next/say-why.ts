import { faults } from '../faults/catalog.ts';
import { checkWords } from '../words/checks.ts';
import type { Weighted } from './posterior.ts';
import type { RankedCheck } from './rank-checks.ts';

/** Why a check comes where it does, in one sentence for somebody with one free hand. */
export function sayWhy(ranked: RankedCheck, likeliest: readonly Weighted[]): string {
  const { minutes } = checkWords[ranked.code];
  const takes = `${minutes} ${minutes === 1 ? 'minute' : 'minutes'}`;
  const { shows } = ranked;
  if (shows !== undefined && ranked.isDue) {
    return `Due before this may be blamed: ${nameOf(shows)}. ${takes}.`;
  }
  if (shows !== undefined && shows.shareOfFault >= namedShareMin) {
    return `Tells in ${takes} for or against ${nameOf(shows)}, ${percent(shows.shareOfFault)} likely so far.`;
  }
  const [first, second] = likeliest;
  const between =
    first === undefined || second === undefined
      ? 'something else'
      : `${nameOf(first)} or ${nameOf(second)}`;
  return `Narrows it down in ${takes}; so far it is most likely ${between}.`;
}

const namedShareMin = 0.05;

function nameOf({ suspect }: Weighted): string {
  return suspect.fault === 'something_else'
    ? 'something else'
    : lowerFirst(faults[suspect.fault].name);
}

function lowerFirst(name: string): string {
  return /^[A-Z]{2}/.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
