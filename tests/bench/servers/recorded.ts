/** One statement as it went to the database. */
export interface RecordedStatement {
  text: string;
  values: unknown[];
  /** Of a prepared statement. */
  name?: string;
  rowMode?: 'array';
  /** How long its answer took in the rehearsal, alone on the server. */
  ms: number;
}

/** A request's statements in order, and the answer it gave. */
export interface RecordedRequest {
  statements: RecordedStatement[];
  status: number;
  headers: Record<string, string>;
  body: string;
  /** From the request's arrival to its answer, in the rehearsal. */
  ms: number;
}

/** Pool and connections are the same for the service and for its floor. */
export const poolMax = 10;
