/** What a fan does in a given duct system. Power in any unit; it keeps it. */
export type FanPoint = { airflowCfm: number; staticInH2O: number; power: number };

/**
 * The same fan in the same ducts at another airflow: airflow goes with speed, static pressure with
 * its square, power with its cube. Source: the fan laws, from memory of AMCA and ASHRAE.
 * Worked: 1,000 to 1,200 CFM -> 0.50 becomes 0.72 in. w.c. and power 1.728 times what it was.
 */
export function fanAtAirflow(now: FanPoint, airflowCfm: number): FanPoint {
  const speedRatio = airflowCfm / now.airflowCfm;
  return {
    airflowCfm,
    staticInH2O: now.staticInH2O * speedRatio ** 2,
    power: now.power * speedRatio ** 3,
  };
}

/** The same fan in the same ducts at another speed. Worked: 1.10 times -> 1.21 and 1.331 times. */
export function fanAtSpeedRatio(now: FanPoint, speedRatio: number): FanPoint {
  return fanAtAirflow(now, now.airflowCfm * speedRatio);
}
