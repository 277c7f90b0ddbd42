import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import { measuredAt, readingsAt, type Settled, show } from './measured.ts';
import { remembered } from './remembered-for.ts';

/**
 * What a compressor's insulation shows to ground, ohms. Below `grounded` it is broken down; between
 * that and `doubtful` liquid refrigerant, moisture or heat may do it too; above `sound` it is good.
 * Common practice, no source: makers ask for half a megohm to some megohms.
 */
export const toGroundOhms = { grounded: 100_000, doubtful: 1_000_000, sound: 2_000_000 } as const;

/**
 * The resistance of the compressor to ground. A low figure and a look that showed OL contradict each
 * other: leads still on, water or dirt read low. Two low figures after that look outvote it.
 */
export const compressorToGround = remembered((facts): Settled => {
  const settled = measuredAt(facts, 'compressor_to_ground', 'resistance');
  if (settled.kind !== 'settled') return settled;
  if (compareWithLimit(settled.measured, toGroundOhms.doubtful) === 'above') return settled;
  const open = facts.observations.findLast(
    ({ code, answer }) => code === 'compressor_to_ground_reads_open' && answer === 'yes',
  );
  if (open === undefined) return settled;
  const since = readingsAt(facts, 'compressor_to_ground', 'resistance').filter(
    ({ takenAt }) => Date.parse(takenAt) > Date.parse(open.at),
  );
  if (since.length > 1) return settled;
  return {
    kind: 'disagree',
    why: `${show(settled.measured)}, and the meter showed OL too: leads off, terminals dry, measure again.`,
    readingIds: settled.measured.readingIds,
  };
});
