import { dayText } from '../../../src/platform/calendar-day.ts';
import { comesAgain, isRecall, recalledFaults } from '../history.ts';
import { type Scenario, scenarios } from '../scenarios.ts';
import { bendPrices } from './bend-prices.ts';
import type { Bendable, Wrong } from './wrong.ts';

/** Every way to write a job wrongly that the generator knows. */
export const wrongs: readonly Wrong[] = [
  {
    kind: 'reset_billed_as_repair',
    scenarioFor: onlyReset,
    bendPrice: bendPrices.resetAsRepair,
  },
  {
    kind: 'reset_billed_as_repair',
    scenarioFor: onlyReset,
    bendPrice: bendPrices.resetAsRepair,
    acts: { callsItRepair: true },
  },
  {
    kind: 'line_without_finding',
    scenarioFor: (job) => fitting(job, ({ override }) => override !== undefined),
    acts: { sellsUnproven: true },
    onlyFeeOwed: true,
  },
  { kind: 'line_without_finding', scenarioFor: sold, bendPrice: bendPrices.workFromNowhere },
  {
    kind: 'price_above_ceiling',
    scenarioFor: sold,
    bendPrice: bendPrices.dearerHour,
    keepsInputs: true,
  },
  {
    kind: 'price_above_ceiling',
    scenarioFor: sold,
    bendPrice: bendPrices.dearerParts,
    keepsInputs: true,
  },
  { kind: 'padded_minutes', scenarioFor: sold, bendPrice: bendPrices.moreMinutes },
  { kind: 'padded_part_cost', scenarioFor: sold, bendPrice: bendPrices.dearerParts },
  { kind: 'fee_not_credited', scenarioFor: sold, bendPrice: bendPrices.noCredit },
  {
    kind: 'fee_not_credited',
    scenarioFor: sold,
    bendPrice: bendPrices.noCredit,
    keepsInputs: true,
  },
  { kind: 'fee_charged_twice', scenarioFor: sold, acts: { chargesFeeAgain: true } },
  { kind: 'warranted_part_charged', scenarioFor: sold, bendPrice: bendPrices.noWarranty },
  { kind: 'recall_charged', scenarioFor: cameBack, bendPrice: bendPrices.noRecall },
  { kind: 'duplicate_part', scenarioFor: otherSideOfCapacitor, onlyFeeOwed: true },
  { kind: 'parts_not_used', scenarioFor: sold, acts: { leavesPartsOut: true } },
  {
    kind: 'refrigerant_without_record',
    scenarioFor: (job) => (job.technician.epa608Type === null ? undefined : newCharge(job)),
    acts: { weighsNothing: true },
  },
  {
    kind: 'refrigerant_without_certificate',
    scenarioFor: (job) => (job.technician.epa608Type === null ? newCharge(job) : undefined),
    acts: { borrowsCertificate: true },
  },
  { kind: 'work_before_acceptance', scenarioFor: sold, acts: { worksFirst: true } },
  { kind: 'wrong_tax', scenarioFor: sold, bendPrice: bendPrices.otherTax },
  { kind: 'cancelled_after_time_on_site', scenarioFor: sold, acts: { cancels: true } },
  { kind: 'readings_after_quote', scenarioFor: measured, acts: { readsLate: true } },
];

/** Kept apart: one technician's habit, which shows over many jobs and in none of them alone. */
export const inventedReadings: Wrong = {
  kind: 'invented_readings',
  scenarioFor: (job) =>
    job.scenario.findings.length === 1 && findsFault(job.scenario, 'run_capacitor_herm')
      ? sold(job)
      : undefined,
  acts: { inventsReadings: true },
};

/** The visit as it goes anyway, where it sells work of more than a reset and no old work came back. */
export function sold(job: Bendable): Scenario | undefined {
  const { scenario } = job;
  const sells = scenario.options.length > 0 && scenario.findings.length > 0;
  const needsNothingElse = scenario.override === undefined && !isReset(scenario);
  return sells && needsNothingElse && isFresh(job, scenario) && mayHandle(job, scenario)
    ? scenario
    : undefined;
}

function onlyReset(job: Bendable): Scenario | undefined {
  return fitting(job, isReset);
}

function measured(job: Bendable): Scenario | undefined {
  const scenario = sold(job);
  return scenario !== undefined && MEASURED.some((fault) => findsFault(scenario, fault))
    ? scenario
    : undefined;
}

const MEASURED = ['run_capacitor_herm', 'run_capacitor_fan', 'worn_contactor', 'low_charge'];

function newCharge(job: Bendable): Scenario | undefined {
  return fitting(job, (scenario) => findsFault(scenario, 'low_charge'));
}

/** The same trouble as lately, within our warranty. */
export function cameBack({ known, arrivesAbout: arrivedAt, day, outdoor }: Bendable) {
  const back = recalledFaults(known, { arrivedAt, day });
  return known.findLast(
    ({ fault, scenario }) =>
      back.has(fault) &&
      isRecall(known, scenario, { arrivedAt, day }) &&
      scenario.machine === 'outdoor' &&
      scenario.override === undefined &&
      !isReset(scenario) &&
      !findsFault(scenario, 'low_charge') &&
      fits(scenario, outdoor.nameplate),
  )?.scenario;
}

/** The capacitor was put in lately for one of its two sides, and is sold again for the other. */
function otherSideOfCapacitor(job: Bendable): Scenario | undefined {
  const { capacitorFanUf } = job.outdoor.nameplate;
  const { partsWarrantyUntil } = job.outdoor.row;
  // One that the maker replaces costs nothing, however often it is put in.
  if (partsWarrantyUntil !== null && job.day <= dayText(partsWarrantyUntil)) return undefined;
  const lately = job.known.findLast(
    ({ fault, arrivedAt, partsWentIn }) =>
      partsWentIn &&
      fault.startsWith('run_capacitor_') &&
      arrivedAt < job.arrivesAbout &&
      job.arrivesAbout.getTime() - arrivedAt.getTime() < LATELY_DAYS * DAY_MS,
  );
  if (lately === undefined || capacitorFanUf === undefined) return undefined;
  const other = lately.fault === 'run_capacitor_fan' ? 'run_capacitor_herm' : 'run_capacitor_fan';
  return scenarios.find(
    (scenario) =>
      scenario.findings.length === 1 &&
      scenario.override === undefined &&
      findsFault(scenario, other) &&
      fits(scenario, job.outdoor.nameplate),
  );
}

const LATELY_DAYS = 120;
const DAY_MS = 86_400_000;

/** The first scenario of a kind that the machine can have and that is no recall of old work. */
function fitting(job: Bendable, isKind: (scenario: Scenario) => boolean): Scenario | undefined {
  return scenarios.find(
    (scenario) =>
      isKind(scenario) && fits(scenario, job.outdoor.nameplate) && isFresh(job, scenario),
  );
}

function fits(scenario: Scenario, nameplate: Bendable['outdoor']['nameplate']): boolean {
  return scenario.fits?.(nameplate) !== false;
}

function isFresh({ known }: Bendable, scenario: Scenario): boolean {
  return !comesAgain(known, scenario);
}

function mayHandle({ technician }: Bendable, scenario: Scenario): boolean {
  return technician.epa608Type !== null || !findsFault(scenario, 'low_charge');
}

function isReset({ findings }: Scenario): boolean {
  return findings.length === 1 && findings[0]?.fault === 'tripped_breaker';
}

function findsFault({ findings }: Scenario, wanted: string): boolean {
  return findings.some(({ fault }) => fault === wanted);
}
