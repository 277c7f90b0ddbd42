/**
 * The life of one kind of thing as data: from each state, which action leads to which state. The
 * same table drives the guard, the refusal that names what is allowed, the documentation and the
 * tests.
 */
export interface Lifecycle<State extends string, Action extends string> {
  initial: State;
  /** Every state must answer, if only with "nothing more". */
  moves: Record<State, Partial<Record<Action, State>>>;
}

/** The state an action leads to, or the refusal with what is allowed instead. */
export type Move<State extends string, Action extends string> =
  | { allowed: true; to: State }
  | { allowed: false; from: State; action: Action; allowedActions: Action[] };

/** Decides one step. Never throws: a step that is not allowed is an answer, not an accident. */
export function move<State extends string, Action extends string>(
  lifecycle: Lifecycle<State, Action>,
  from: State,
  action: Action,
): Move<State, Action> {
  const to = lifecycle.moves[from][action];
  if (to !== undefined) return { allowed: true, to };
  return { allowed: false, from, action, allowedActions: allowedActions(lifecycle, from) };
}

/** What may be done from a state, in the order of the table. */
export function allowedActions<State extends string, Action extends string>(
  lifecycle: Lifecycle<State, Action>,
  from: State,
): Action[] {
  return Object.keys(lifecycle.moves[from]) as Action[];
}
