/** A sound control fuse is a piece of wire; common practice, no source. */
export const closedFuseOhmsMax = 1;
