import type { TaskCode } from '../../trade/index.ts';
import { workOf } from './read-segment.ts';
import type { Stretch } from './read-stretches.ts';
import { isBare } from './share-verb.ts';
import type { ThingSaid } from './things-said.ts';

/**
 * A bill that only names what was put in: `Hard start kit and capacitor`. Nothing else is done to
 * such things but to put them in, so that is what it says; of a breaker, a drain or a thermostat,
 * where more may have been done, nobody knows. The same stretches where it says anything else.
 */
export function readNamed(stretches: readonly Stretch[]): readonly Stretch[] {
  const named = stretches.map((stretch) => namedIn(stretch));
  const isOnly = stretches.every(
    ({ said }, at) => said.is === 'nothing' || named[at] !== undefined,
  );
  return isOnly ? stretches.map((stretch, at) => named[at] ?? stretch) : stretches;
}

function namedIn(stretch: Stretch): Stretch | undefined {
  const { tags, said } = stretch;
  const thing = tags.find(({ is }) => is === 'thing');
  if (said.is !== 'unclear' || thing?.is !== 'thing' || !isBare({ tags })) return undefined;
  const taskCodes = onlyPutIn(thing.thing);
  if (taskCodes === undefined) return undefined;
  return { ...stretch, said: workOf(thing.thing, taskCodes, tags), isOnlyNamed: true };
}

/** How it may be put in, where nothing else is work on it. */
function onlyPutIn({ done }: ThingSaid): readonly TaskCode[] | undefined {
  const { replace = [], install = [], add = [], ...others } = done;
  const isMore = Object.values(others).some((tasks) => tasks.length > 0);
  const tasks = [...new Set([...replace, ...install, ...add])];
  return isMore || tasks.length === 0 ? undefined : tasks;
}
