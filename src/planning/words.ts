/** A point on the map, in degrees; south and west are negative. */
export interface Place {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Whose place this is an estimate of: two sites may share the point, and are apart all the same. */
  readonly aboutSiteId?: string;
}

/** How the company drives, from its dispatch policy. */
export interface Road {
  /** Miles of road for one mile as the crow flies; at least 1. */
  readonly roadFactor: number;
  readonly mph: number;
  /** To park and walk in, once for every drive. */
  readonly parkMinutes: number;
}

/** A span of time in epoch minutes (an instant / 60,000 ms), `from` and `to` included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Work at one place. Every time is in epoch minutes, every duration in whole minutes. */
export interface Stop {
  readonly id: string;
  readonly place: Place;
  /** Of work, without the drive. */
  readonly minutes: number;
  /** The work begins no earlier ... */
  readonly earliest: number;
  /** ... and no later: the arrival window. */
  readonly latest: number;
  /** The skills it takes, all of them. */
  readonly needs: readonly string[];
  /** How many helpers it takes beside the technician. */
  readonly helpers: number;
  /** Whether the customer was promised the window: it is then never left out, and never moved. */
  readonly promised: boolean;
  /** Who has it now. */
  readonly technicianId?: string;
  /** When its work is planned now. */
  readonly plannedStart?: number;
  /**
   * Present where the technician is there or on the way, or was: when the work began, or begins.
   * Neither its technician nor its order changes any more.
   */
  readonly pinnedStart?: number;
  /** What it costs to leave it out, beside the others; promised stops are never weighed. */
  readonly weight: number;
}

/** A technician on one day. */
export interface Crew {
  readonly technicianId: string;
  /** Where the day begins and ends. */
  readonly base: Place;
  /**
   * The spans of work, in order, each after the one before. No work runs across the end of one, and
   * nobody leaves for a stop before the first begins: of a day under way, what is left of it
   * (`hoursLeft`).
   */
  readonly hours: readonly Span[];
  readonly skills: readonly string[];
  /** How many helpers go along. */
  readonly helpers: number;
}
