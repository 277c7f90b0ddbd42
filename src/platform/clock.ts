/** Where the program takes the time from. Tests and the generator bring their own. */
export interface Clock {
  now(): Date;
}

export const systemClock: Clock = { now: () => new Date() };
