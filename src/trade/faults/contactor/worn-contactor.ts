import { controlVoltsMax, controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { contactorDropVolts, everyPole, worstPole } from '../../facts/contactor-drop.ts';
import { type Measured, measuredAt, show, showValue } from '../../facts/measured.ts';
import { latestInstant, type Minutes, measuredNear } from '../../facts/measured-near.ts';
import { observed } from '../../facts/observed.ts';
import { lineVoltsMin } from '../../facts/supply-volts.ts';
import { outdoorLoad } from '../../facts/under-load.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import { seenSince } from '../../verdicts/last-interruption.ts';
import type { DrawnMeasurement, Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighReadsOpen } from '../../verdicts/weigh-reads-open.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { nothingRunsOutdoors, starvedOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { withoutContactor } from './without-contactor.ts';

export const wornContactor = {
  name: 'Worn or failed contactor',
  explanation:
    'A contactor is the heavy switch that connects the outdoor unit to power each time the thermostat asks for cooling. When its contacts are worn or it no longer closes, the motors get too little power or none.',
  partOfSystem: 'contactor',
  role: 'cause',
  kinds: contactorKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.storedCharge, cautions.liveMeasurement],
  exclusions: [
    {
      statement:
        'The voltage at its coil was measured: a low one makes a sound contactor chatter and burn.',
      doneWhen: [{ point: 'contactor_coil', quantity: 'voltage' }],
    },
  ],
  remedies: [
    {
      task: 'replace_contactor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['contactor'],
    },
  ],
  rules: { unfit: withoutContactor, criteria: weighContactor },
  settledBy: ['measure_contactor_coil', 'measure_contactor_poles'],
  perThousand: 60,
  expects: {
    contactor_coil_volts: { fine: 0.97 },
    outdoor_call_volts: { fine: 0.97 },
    line_volts: { fine: 0.98 },
    indoor_fan_running: 0.97,
    thermostat_calling_cooling: 0.98,
  },
  scenes: [
    {
      share: 0.4,
      expects: {
        ...nothingRunsOutdoors,
        contactor_pulled_in: 0.08,
        contactor_contacts_pitted: 0.4,
        contactor_coil_reads_open: 0.4,
        contactor_by_hand_both_start: 0.93,
      },
    },
    {
      share: 0.25,
      expects: {
        ...nothingRunsOutdoors,
        contactor_pulled_in: 0.97,
        contactor_contacts_pitted: 0.95,
        contactor_drop: { high: 0.95 },
        contactor_by_hand_both_start: 0.2,
      },
    },
    {
      share: 0.35,
      expects: {
        ...starvedOutdoors,
        contactor_contacts_pitted: 0.95,
        contactor_drop: { high: 0.8, raised: 0.17 },
      },
    },
  ],
} as const satisfies Fault;

function weighContactor(facts: Facts): Weighed[] {
  const worst = worstPole(facts);
  return [
    weighMeasurement(
      {
        id: 'drop_high',
        statement: 'A closed pole drops more than 3 V.',
        direction: 'for',
        weight: 'decisive',
      },
      worst,
      (measured) => decideDrop(facts, measured, contactorDropVolts.due),
    ),
    weighMeasurement(
      {
        id: 'drop_raised',
        statement: 'A closed pole drops more than 0.5 V.',
        direction: 'for',
        weight: 'indicative',
      },
      worst,
      (measured) => decideDrop(facts, measured, contactorDropVolts.worn),
    ),
    // Every contactor that has worked some summers is pitted: only what it drops shows it worn.
    weighTogether(
      {
        id: 'contacts_pitted',
        statement: 'Its contacts are pitted or burnt, and a closed pole drops more than 0.5 V.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'contactor_contacts_pitted'),
      [
        whenObserved(facts, 'contactor_pulled_in'),
        whenMeasured(worst, 'drop of a closed pole', 'above', contactorDropVolts.worn),
      ],
    ),
    weighMeasurement(
      {
        id: 'coil_fed_contacts_open',
        statement: 'The coil has its 24 V and the contacts stay open.',
        direction: 'for',
        weight: 'decisive',
      },
      measuredAt(facts, 'contactor_coil', 'voltage'),
      (measured) => decideCoil(facts, measured),
    ),
    weighReadsOpen(facts, {
      id: 'coil_open',
      direction: 'for',
      code: 'contactor_coil_reads_open',
      point: 'contactor_coil',
      running: 'contactor_pulled_in',
      weight: 'decisive',
    }),
    weighMeasurement(
      {
        id: 'poles_clean',
        statement: 'It pulls in and every pole drops about 0 V under load.',
        direction: 'against',
        weight: 'decisive',
      },
      worst,
      (measured) => decideClean(facts, measured),
    ),
  ];
}

/** Across an open pole stands the full line voltage: only a pole known to be closed has a drop. */
function decideDrop(facts: Facts, measured: Measured, limitVolts: number): Decision {
  const pulledIn = observed(facts, 'contactor_pulled_in');
  const observationIds = pulledIn?.ids ?? [];
  if (pulledIn?.answer !== 'yes') {
    const why =
      pulledIn === undefined
        ? 'record whether the contactor was pulled in'
        : 'the contactor was not pulled in, so this is no drop across closed contacts';
    return { outcome: 'undecided', detail: `${show(measured)}; ${why}.`, observationIds };
  }
  const otherwise = whyNoDrop(facts, measured);
  if (otherwise !== undefined) {
    return { outcome: 'undecided', detail: `${show(measured)}; ${otherwise}.`, observationIds };
  }
  const side = compareWithLimit(measured, limitVolts);
  return {
    outcome: side === 'above' ? 'met' : side === 'below' ? 'not_met' : 'undecided',
    detail: dropSentence(measured, limitVolts),
    measurement: dropMeasurement(measured, limitVolts),
    observationIds,
  };
}

/**
 * Line voltage stands across an open pole by right, so that much counts only where the contactor
 * was in by then, and what is behind it stands still.
 */
function whyNoDrop(facts: Facts, measured: Measured): string | undefined {
  if (compareWithLimit(measured, lineVoltsMin) !== 'above') return undefined;
  if (outdoorLoad(facts) !== undefined) {
    return 'the machine runs, so this was measured across an open pole: measure again, running';
  }
  const pulledIn = seenSince(facts, 'contactor_pulled_in', 'yes', [onlyOf(measured)]);
  if (pulledIn.state === 'holds' && !isLater(facts, pulledIn, measured)) return undefined;
  return 'the contactor was seen pulled in at another time: look and measure together';
}

function onlyOf({ readingIds }: Measured): Minutes {
  return { readingIds, observationIds: [] };
}

/** That every look was made after the measurement. */
function isLater(facts: Facts, { observationIds }: Minutes, measured: Measured): boolean {
  const looks = facts.observations.filter(({ id }) => observationIds.includes(id));
  const takenAt = Date.parse(latestInstant(facts, onlyOf(measured)) ?? '');
  return looks.every(({ at }) => Date.parse(at) > takenAt);
}

function decideClean(facts: Facts, measured: Measured): Decision {
  const drop = decideDrop(facts, measured, contactorDropVolts.worn);
  if (drop.outcome === 'met') return { ...drop, outcome: 'not_met' };
  if (drop.outcome === 'undecided') return drop;
  const poles = everyPole(facts);
  if (poles.some((pole) => pole.kind !== 'settled')) {
    return { ...drop, outcome: 'undecided', detail: `${drop.detail} Not every pole was measured.` };
  }
  if (outdoorLoad(facts) === undefined) {
    const detail = `${drop.detail} No load was on record; without current even burnt contacts drop 0 V.`;
    return { ...drop, outcome: 'undecided', detail };
  }
  const readingIds = poles.flatMap((pole) =>
    pole.kind === 'settled' ? pole.measured.readingIds : [],
  );
  return { ...drop, outcome: 'met', readingIds };
}

function dropSentence(measured: Measured, limitVolts: number): string {
  return `${show(measured)} across a closed pole; the limit is ${limitVolts} V; this method is good to ${showValue(measured.uncertainty, 'V')}.`;
}

function dropMeasurement({ value, unit, uncertainty }: Measured, limitVolts: number) {
  const label = 'Voltage across a closed contactor pole' as const;
  return { label, value, unit, uncertainty, high: limitVolts };
}

/** Coils of 120 V and 240 V exist; whether such a one has its full voltage is not known here. */
function notControl(measured: Measured): string {
  return `${show(measured)} at the coil; this is no 24 V coil, so these limits do not judge it.`;
}

function decideCoil(facts: Facts, measured: Measured): Decision {
  const side = compareWithLimit(measured, controlVoltsMin);
  const detail = `${show(measured)} at the coil; ${controlVoltsMin} V should pull it in`;
  const { value, unit, uncertainty } = measured;
  const measurement: DrawnMeasurement = {
    label: 'Voltage at the coil',
    value,
    unit,
    uncertainty,
    low: controlVoltsMin,
  };
  if (side === 'below')
    return { outcome: 'not_met', detail: `${detail}: look upstream.`, measurement };
  if (side === 'within') return { outcome: 'undecided', detail: `${detail}.`, measurement };
  if (measured.value > controlVoltsMax)
    return { outcome: 'undecided', detail: notControl(measured) };
  const pulledIn = observed(facts, 'contactor_pulled_in');
  if (pulledIn === undefined) {
    return { outcome: 'undecided', detail: `${detail}; record whether it did.`, measurement };
  }
  const rests = { measurement, observationIds: pulledIn.ids };
  if (pulledIn.answer === 'yes') {
    return { outcome: 'not_met', detail: `${detail}; it pulled in.`, ...rests };
  }
  const otherwise = whyNotThen(facts, measured);
  return otherwise === undefined
    ? { outcome: 'met', detail: `${detail}; it stayed open.`, ...rests }
    : { detail: `${detail}; ${otherwise.why}.`, outcome: otherwise.outcome, ...rests };
}

/** A contactor that was seen open before the call came is as it should be. */
function whyNotThen(
  facts: Facts,
  measured: Measured,
): { outcome: 'not_met' | 'undecided'; why: string } | undefined {
  const open = seenSince(facts, 'contactor_pulled_in', 'no', [onlyOf(measured)]);
  if (runsSince(facts, open)) return { outcome: 'not_met', why: 'what it switches runs' };
  const then = measuredNear(facts, 'contactor_coil', 'voltage', open);
  const isFedThen =
    then.kind === 'settled' && compareWithLimit(then.measured, controlVoltsMin) === 'above';
  if (open.state === 'holds' && isFedThen) return undefined;
  return { outcome: 'undecided', why: 'it was seen open at another time: look again now' };
}

/** That a motor behind the contactor was seen running as late as the contactor was seen open. */
function runsSince(facts: Facts, open: Minutes): boolean {
  const seenAt = Date.parse(latestInstant(facts, open) ?? '');
  return (['compressor_running', 'outdoor_fan_running'] as const).some((code) => {
    const runs = observed(facts, code);
    if (runs?.answer !== 'yes') return false;
    const ranAt = latestInstant(facts, { readingIds: [], observationIds: runs.ids });
    return Date.parse(ranAt ?? '') >= seenAt;
  });
}
