/** Papers are some tens of kilobytes; whatever is larger was never one of ours. */
export const PAPER_BYTES_MAX = 10 * 1024 * 1024;
