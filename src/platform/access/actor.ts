/** The roles of staff. What each may do is said by every route's `access`, never by its address. */
export const roles = ['dispatcher', 'technician', 'owner'] as const;
export type Role = (typeof roles)[number];

/** Who is asking. */
export interface Actor {
  kind: 'staff';
  id: string;
  name: string;
  role: Role;
  /** The session they came by; a program that shows a token of its own has none. */
  sessionId?: string;
}

/**
 * A customer who acts on a page that was made for them. Nobody signed in: the link that was sent is
 * who they are.
 */
export interface CustomerActor {
  kind: 'customer';
  /** The link's. */
  id: string;
  name: string;
}

/** Who may use a route: everybody, or the staff roles listed. There is no default. */
export type Access = 'public' | readonly Role[];

/** Every member of staff. */
export const anyStaff: Access = roles;
