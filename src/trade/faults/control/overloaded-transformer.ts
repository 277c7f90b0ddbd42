import { controlVoltsMin } from '../../electrical/control-volts.ts';
import { secondaryAmps } from '../../electrical/transformer.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { pointWords } from '../../words/points.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { shortLookedFor, whenPrimaryIsFed } from './failed-transformer.ts';
import { whenCableIsSound } from './when-cable-is-sound.ts';

export const overloadedTransformer = {
  name: 'Overloaded control transformer',
  explanation:
    'A small transformer gives the low voltage for thermostat and controls, and only so much of it. When more hangs on it than it can carry, its voltage sags until switches chatter or let go. A larger one, or less hanging on it, ends that.',
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
      needs: 'proven',
      partCategories: ['transformer'],
    },
  ],
  rules: { criteria: weighLoad },
  settledBy: ['measure_control_supply', 'measure_transformer_load', 'measure_control_cable'],
  perThousand: 3,
  expects: {
    transformer_primary_volts: { fine: 0.98 },
    transformer_secondary_volts: { low: 0.93 },
    transformer_load: { over: 0.95 },
    control_volts: { low: 0.92 },
    contactor_coil_volts: { low: 0.85 },
    contactor_pulled_in: 0.35,
    outdoor_fan_running: 0.35,
    compressor_running: 0.35,
    outdoor_fan_amps: { none: 0.6 },
    compressor_amps: { none: 0.6 },
    contactor_by_hand_both_start: 0.95,
    control_fuse_reads_open: 0.03,
    control_cable_ohms: { short: 0.03 },
    split: { low: 0.8 },
  },
} as const satisfies Fault;

function weighLoad(facts: Facts): Weighed[] {
  const secondary = measuredAt(facts, 'transformer_secondary', 'voltage');
  const current = measuredAt(facts, 'transformer_secondary', 'current');
  const { transformerVa } = facts.equipment.nameplate;
  const ratedAmps = transformerVa === undefined ? undefined : secondaryAmps(transformerVa);
  const sags = whenMeasured(
    secondary,
    pointWords.transformer_secondary.name,
    'below',
    controlVoltsMin,
  );
  const shortLooked = whenObserved(facts, 'control_short_looked_for');
  const currentName = 'current of the control transformer';
  return [
    // A half-touching wire or a coil with shorted turns overloads it too, until it is looked for.
    weighTogether(
      {
        id: 'sags_above_its_rating',
        statement:
          'Fed with line voltage it sags below 20 V and carries more than its rating; a short was looked for and the cable is sound.',
        direction: 'for',
        weight: 'decisive',
      },
      whenMeasured(current, currentName, 'above', ratedAmps),
      [sags, whenPrimaryIsFed(facts, sags), whenCableIsSound(facts), shortLooked],
    ),
    weighTogether(
      {
        id: 'above_its_rating',
        statement: 'It carries more than its rating.',
        direction: 'for',
        weight: 'indicative',
      },
      whenMeasured(current, currentName, 'above', ratedAmps),
      [],
    ),
    weighTogether(
      {
        id: 'within_its_rating',
        statement: 'It carries less than its rating.',
        direction: 'against',
        weight: 'decisive',
      },
      whenMeasured(current, currentName, 'below', ratedAmps),
      [],
    ),
    weighLimit(
      {
        id: 'holds_its_voltage',
        statement: 'It holds its voltage.',
        direction: 'against',
        weight: 'indicative',
      },
      secondary,
      {
        label: 'Secondary of the control transformer',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'the controls need',
      },
    ),
  ];
}
