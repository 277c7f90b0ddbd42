/**
 * From here a 24 V control wire counts as fed and a coil must pull in; below, the supply is low.
 * Common practice, no source.
 */
export const controlVoltsMin = 20;

/** Above this it is no 24 V circuit; common practice, no source. */
export const controlVoltsMax = 40;

/** Below this a control wire counts as dead; a meter shows a few stray volts on an open wire. */
export const deadVoltsMax = 5;
