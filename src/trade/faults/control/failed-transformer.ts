import { controlVoltsMin } from '../../electrical/control-volts.ts';
import { serviceBand, utilizationVoltsMin } from '../../electrical/voltage-band.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, type Settled } from '../../facts/measured.ts';
import { type Minutes, measuredNear } from '../../facts/measured-near.ts';
import { sideOf } from '../../facts/side-of.ts';
import { surelyFedVolts } from '../../facts/supply-volts.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { pointWords } from '../../words/points.ts';
import { cautions } from '../cautions.ts';
import { noControlPower } from '../expectations.ts';
import type { Exclusion, Fault } from '../fault.ts';
import { closedFuseOhmsMax } from './control-fuse.ts';
import { whenDead } from './when-fed.ts';

/** The least that goes into a transformer made for 120 V; one made for more needs more. */
export const transformerPrimaryVoltsMin = utilizationVoltsMin(120, 'b');

/** What burns one transformer burns the next. */
export const shortLookedFor: Exclusion = {
  statement: 'A short in the control circuit was looked for: it would burn the next one too.',
  doneWhen: [
    { observation: 'control_short_looked_for', answers: ['yes'] },
    { point: 'control_cable', quantity: 'resistance' },
  ],
};

export const failedTransformer = {
  name: 'Failed control transformer',
  explanation:
    'A small transformer turns house voltage into the low voltage that thermostat and controls run on. When its winding burns through, nothing in the control circuit has power any more and the equipment stands still.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.liveMeasurement, cautions.gasFurnace],
  exclusions: [shortLookedFor],
  remedies: [
    {
      task: 'replace_transformer',
      remedyClass: 'replace',
      // A short behind it or its own breaker looks alike: what is not proven is not sold.
      needs: 'proven',
      partCategories: ['transformer'],
    },
  ],
  rules: { criteria: weighTransformer },
  settledBy: ['measure_control_supply', 'pull_control_fuse', 'measure_control_cable'],
  perThousand: 14,
  expects: {
    ...noControlPower,
    transformer_primary_volts: { fine: 0.98 },
    transformer_secondary_volts: { none: 0.97 },
    control_fuse_reads_open: 0.03,
    control_fuse_seen_blown: 0.03,
  },
} as const satisfies Fault;

function weighTransformer(facts: Facts): Weighed[] {
  const secondary = measuredAt(facts, 'transformer_secondary', 'voltage');
  const dead = whenDead(facts, 'transformer_secondary');
  const fed = whenPrimaryIsFed(facts, dead);
  return [
    weighTogether(
      {
        id: 'dead_though_fed_fuse_good',
        statement:
          'Fed with line voltage it gives none; the control fuse is good and no button of its own is out.',
        direction: 'for',
        weight: 'decisive',
      },
      dead,
      [fed, whenFuseIsGood(facts), whenObserved(facts, 'transformer_button_out', 'no')],
    ),
    weighTogether(
      {
        id: 'dead_though_fed',
        statement: 'Fed with line voltage it gives none.',
        direction: 'for',
        weight: 'indicative',
      },
      dead,
      [fed],
    ),
    weighLimit(
      {
        id: 'gives_its_voltage',
        statement: 'The transformer gives its control voltage.',
        direction: 'against',
        weight: 'decisive',
      },
      secondary,
      {
        label: 'Secondary of the control transformer',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'the controls need',
      },
    ),
    weighLimit(
      {
        id: 'board_is_fed',
        statement: 'The board has its control voltage.',
        direction: 'against',
        weight: 'decisive',
      },
      measuredAt(facts, 'control_supply', 'voltage'),
      {
        label: 'Control supply at the board',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'the controls need',
      },
    ),
  ];
}

/** That line voltage goes into the control transformer in the minutes its output was measured. */
export function whenPrimaryIsFed(facts: Facts, minutes: Minutes): Condition {
  const primary = measuredNear(facts, 'transformer_primary', 'voltage', minutes);
  return whenMeasured(primary, pointWords.transformer_primary.name, 'above', primaryMin(primary));
}

/** The least of what it is made for: what no 120 V supply reaches comes from 208 V or 240 V. */
function primaryMin(primary: Settled): number {
  const isMore = sideOf(primary, serviceBand(120, 'b').high) === 'above';
  return isMore ? surelyFedVolts : transformerPrimaryVoltsMin;
}

/** A short with a good fuse in front of it would have opened that fuse. */
function whenFuseIsGood(facts: Facts): Condition {
  return anyOf('Pull the control fuse and test it.', [
    whenMeasured(
      measuredAt(facts, 'control_fuse', 'resistance'),
      'control fuse, pulled from the board',
      'below',
      closedFuseOhmsMax,
    ),
    whenObserved(facts, 'control_fuse_reads_open', 'no'),
  ]);
}
