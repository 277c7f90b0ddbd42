import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import { sideOf } from '../../facts/side-of.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import { machineLoad } from '../../facts/under-load.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Provided, weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { deadMachineScenes } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighPassage } from './weigh-passage.ts';

export const openDisconnectFuse = {
  name: 'Open fuse of the disconnect',
  explanation:
    'A fuse in the switch near the equipment melts when too much current flows, to protect the wires; the equipment behind it then has no power. New fuses of the same size restore it. What made a fuse melt is a separate question.',
  partOfSystem: 'power',
  role: 'symptom',
  notTheCause:
    'An open fuse is not the cause: usually something drew too much current, seldom its clips got hot.',
  causeSearch: {
    lookFor:
      'Look for what drew the current: a motor winding to ground, a locked compressor, a rubbed wire; and for burnt fuse clips, which heat a fuse until it opens.',
    recordedBy: [{ observation: 'disconnect_fuse_cause_looked_for', answers: ['yes'] }],
  },
  kinds: fedKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    'Fit all fuses anew, of the size and class the nameplate asks for, never larger.',
  ],
  exclusions: [],
  remedies: [
    {
      task: 'replace_disconnect_fuses',
      remedyClass: 'reset',
      needs: 'supported',
      partCategories: ['disconnect_fuse'],
    },
    {
      task: 'trace_disconnect_fuse',
      remedyClass: 'diagnose',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighFuse },
  settledBy: ['test_disconnect_fuses'],
  perThousand: 10,
  expects: {
    disconnect_fuse_reads_open: 0.98,
    disconnect_volts: { fine: 0.98 },
    // With one fuse left a meter finds what comes back through the motors.
    line_volts: { none: 0.85, low: 0.12 },
  },
  scenes: deadMachineScenes,
} as const satisfies Fault;

function weighFuse(facts: Facts): Weighed[] {
  return [
    weighObservation(facts, {
      id: 'reads_open',
      direction: 'for',
      code: 'disconnect_fuse_reads_open',
      weight: 'decisive',
    }),
    weighAcross(facts, 'disconnect_fuse_1', 'voltage_across_first_fuse', 'first'),
    weighAcross(facts, 'disconnect_fuse_2', 'voltage_across_second_fuse', 'second'),
    weighPassage(facts, [disconnectSeated(facts)]),
    weighObservation(facts, {
      id: 'reads_closed',
      statement: 'Every fuse of the disconnect, pulled out, reads closed.',
      direction: 'against',
      code: 'disconnect_fuse_reads_open',
      answer: 'no',
      weight: 'decisive',
    }),
  ];
}

function disconnectSeated(facts: Facts): Provided {
  const foundOpen = observed(facts, 'disconnect_found_open');
  return {
    holds: foundOpen?.answer === 'no',
    otherwise: 'record first that the disconnect is on and seated',
    observationIds: foundOpen?.ids ?? [],
  };
}

/** A sound fuse is a piece of wire; only across an open one can line voltage stand. */
function weighAcross(
  facts: Facts,
  point: 'disconnect_fuse_1' | 'disconnect_fuse_2',
  id: string,
  which: 'first' | 'second',
): Weighed {
  const settled = measuredAt(facts, point, 'voltage');
  const load = machineLoad(facts);
  const stands = sideOf(settled, lineVoltsMin) === 'above';
  const provided: Provided = {
    holds: load === undefined,
    otherwise: 'the machine runs, so no fuse of it is open: measure again from end to end',
    ...load,
  };
  return weighLimit(
    {
      id,
      statement: `Line voltage stands across the ${which} fuse.`,
      direction: 'for',
      weight: 'decisive',
    },
    settled,
    {
      label: `Voltage across the ${which} fuse`,
      metWhen: 'above',
      limit: lineVoltsMin,
      because: 'a sound one drops about 0 V, and an open one more than',
      provided: stands ? [provided] : [],
    },
  );
}
