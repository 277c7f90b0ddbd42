/** The roles of staff. What each may do is said by every route's `access`, never by its address. */
export const roles = ['dispatcher', 'technician', 'owner'] as const;
export type Role = (typeof roles)[number];

/** Who is asking. */
export interface Actor {
  kind: 'staff';
  id: string;
  name: string;
  role: Role;
}

/** Who may use a route: everybody, or the staff roles listed. There is no default. */
export type Access = 'public' | readonly Role[];

/** Every member of staff. */
export const anyStaff: Access = roles;
