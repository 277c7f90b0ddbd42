/**
 * How much the suction gas may warm on its way through a reversing valve, F: some degrees come
 * through its body; beyond, hot gas leaks over, and far beyond nothing else explains it. Common
 * practice, no source: 3 to 5 F is said to be the most of a tight valve.
 */
export const valveRiseDegF = { suspected: 5, leaking: 10 } as const;
