/** What the last analysis found; nothing once it was refused, whatever an earlier one had found. */
export const currentAnalysis = <T>({ data, error }: { data: T | undefined; error: Error | null }): T | undefined =>
  error === null ? data : undefined;
