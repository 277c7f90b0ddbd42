import { bookRecipes } from './recipes/book.ts';
import { callRecipes } from './recipes/call.ts';
import { dayRecipes } from './recipes/day.ts';
import { evidenceRecipes } from './recipes/evidence.ts';
import { homeRecipes } from './recipes/home.ts';
import { moneyRecipes } from './recipes/money.ts';
import { ownerRecipes } from './recipes/owner.ts';
import { peopleRecipes } from './recipes/people.ts';
import { quoteRecipes } from './recipes/quote.ts';
import { supplyRecipes } from './recipes/supply.ts';
import { workRecipes } from './recipes/work.ts';
import type { Recipe } from './world.ts';

/**
 * How the state comes about that an operation needs, by its name in the contract. What stands here
 * needs more than identifiers of things that exist; the rest is left to the contract.
 */
export const recipes: Readonly<Record<string, Recipe>> = {
  ...peopleRecipes,
  ...homeRecipes,
  ...callRecipes,
  ...dayRecipes,
  ...evidenceRecipes,
  ...quoteRecipes,
  ...workRecipes,
  ...moneyRecipes,
  ...supplyRecipes,
  ...bookRecipes,
  ...ownerRecipes,
};
