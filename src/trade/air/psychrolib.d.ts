/** The few functions of the library that are used; in its IP system: F, psi, Btu, lb, ft3. */
declare module 'psychrolib' {
  const psychrolib: {
    readonly IP: number;
    SetUnitSystem(unitSystem: number): void;
    GetHumRatioFromTWetBulb(dryBulb: number, wetBulb: number, pressure: number): number;
    GetRelHumFromHumRatio(dryBulb: number, humidityRatio: number, pressure: number): number;
    GetTDewPointFromHumRatio(dryBulb: number, humidityRatio: number, pressure: number): number;
    GetTWetBulbFromRelHum(dryBulb: number, relativeHumidity: number, pressure: number): number;
    GetMoistAirEnthalpy(dryBulb: number, humidityRatio: number): number;
    GetMoistAirVolume(dryBulb: number, humidityRatio: number, pressure: number): number;
  };
  export = psychrolib;
}
