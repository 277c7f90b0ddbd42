/** What is known of a waiting ticket. Null is what nobody asked, or nobody knew. */
export interface TicketFacts {
  kind: 'repair' | 'maintenance';
  /** A danger that the phone told of and that nobody has said is over, in plain words. */
  danger: string | null;
  noCooling: boolean;
  noHeating: boolean;
  /** Groups of people whom heat or cold harms first, in plain words; empty where there are none. */
  vulnerable: readonly string[] | null;
  /** They can go somewhere cooler. */
  hasCoolerPlace: boolean | null;
  indoor: Air | null;
  /** The highest of the day, outdoors in the shade. */
  outdoor: Air | null;
  waterSpreading: boolean;
  /** The same trouble is back after it was mended. */
  isCallback: boolean;
  /** The day by which a part was promised is over. */
  isPromiseOverdue: boolean;
  hasAgreement: boolean;
  /** It is for us to come; not where an answer is awaited, or a part that is not yet due. */
  isOurTurn: boolean;
  waitingMinutes: number;
}

/** Air somewhere, as far as it was told. */
export interface Air {
  tempDegF: number;
  relativeHumidityPercent: number | null;
}
