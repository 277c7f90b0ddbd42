/** The parser ships without types; this is what the tests use of it. */
declare module 'parse-prometheus-text-format' {
  interface Sample {
    value?: string;
  }
  interface Family {
    name: string;
    type: string;
    metrics: Sample[];
  }
  const parse: (text: string) => Family[];
  export = parse;
}
