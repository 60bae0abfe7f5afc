/** jstat has no types of its own; these are the few functions the tests compare with. */
declare module 'jstat' {
  interface Distribution {
    cdf(value: number, ...parameters: number[]): number;
    inv(probability: number, ...parameters: number[]): number;
  }
  const library: {
    readonly jStat: {
      readonly normal: Distribution;
      readonly studentt: Distribution;
      readonly centralF: Distribution;
      readonly chisquare: Distribution;
    };
  };
  export default library;
}
