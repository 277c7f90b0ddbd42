/**
 * How far a sensor may lie from its table, in percent of its resistance: about 5 F at 10 %. One beta
 * misses a maker's table by up to some 5 % and sensor and thermometer are never quite equally warm,
 * so that only twice as much is surely off. Common practice, no source.
 */
export const sensorPercent = { allowed: 10, surelyOff: 20 };
