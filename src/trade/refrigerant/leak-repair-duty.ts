import { type RefrigerantCode, refrigerants } from './refrigerants.ts';

export type ApplianceUse =
  | 'residential_comfort'
  | 'light_commercial_comfort'
  | 'other_comfort'
  | 'commercial_refrigeration'
  | 'industrial_process';

export type LeakRepairDuty =
  | { duty: 'none'; reason: string; source: string }
  | { duty: 'repair'; withinDays: number; limitPercent: number; reason: string; source: string };

/**
 * Whether federal law orders a leak to be repaired, and by when after the addition that showed it
 * (the longer times of an industrial shutdown are not modelled). The rate must be over the limit:
 * 30 % industrial process, 20 % commercial refrigeration, 10 % everything else. Refrigerants that
 * deplete ozone: appliances of 50 lb or more, 40 CFR 82.157. Others: 15 lb or more and a warming
 * potential above 53, which all of ours have; homes and light commerce are excluded, 40 CFR 84.106,
 * in force since 1 January 2026. That rule was under reconsideration when it was read: check again.
 * The ban on venting and the duty to send a certified technician hold for every system.
 * Worked: 8 lb of R-410A in a home -> none; 60 lb of R-22 for comfort at 10.0 % -> none, at 20.28 %
 * -> repair within 30 days.
 */
export function leakRepairDuty(appliance: {
  refrigerant: RefrigerantCode;
  fullChargeLb: number;
  use: ApplianceUse;
  leakRatePercent: number;
}): LeakRepairDuty {
  const { refrigerant, fullChargeLb, use, leakRatePercent } = appliance;
  const { source, fullChargeLbMin, excludedUses } =
    rules[refrigerants[refrigerant].depletesOzone ? 'ozoneDepleting' : 'substitute'];
  const none = (reason: string): LeakRepairDuty => ({ duty: 'none', reason, source });
  if (excludedUses.includes(use)) {
    return none('Home and light commercial systems are excluded. Never vent; certified work only.');
  }
  if (fullChargeLb < fullChargeLbMin) {
    return none(`Holds less than ${fullChargeLbMin} lb. Never vent; certified work only.`);
  }
  const limitPercent = limitsPercent[use];
  if (leakRatePercent <= limitPercent + roundingPercent) {
    return none(`The leak rate is not over ${limitPercent} %.`);
  }
  const reason = `The leak rate is over ${limitPercent} %.`;
  return { duty: 'repair', withinDays: 30, limitPercent, reason, source };
}

type Rule = { source: string; fullChargeLbMin: number; excludedUses: readonly ApplianceUse[] };

const rules: Record<'ozoneDepleting' | 'substitute', Rule> = {
  ozoneDepleting: { source: '40 CFR 82.157', fullChargeLbMin: 50, excludedUses: [] },
  substitute: {
    source: '40 CFR 84.106',
    fullChargeLbMin: 15,
    excludedUses: ['residential_comfort', 'light_commercial_comfort'],
  },
};

const limitsPercent: Record<ApplianceUse, number> = {
  residential_comfort: 10,
  light_commercial_comfort: 10,
  other_comfort: 10,
  commercial_refrigeration: 20,
  industrial_process: 30,
};

/** A rate that is exactly the limit on paper may come out of binary arithmetic a hair above it. */
const roundingPercent = 1e-9;
