/** What the names of text files with a capture end with. */
const textFile = /\.(?:csv|tsv|txt|log|asc|dat)$/iu;

/** The name of the file that belongs to a text file: `NAME.csv`, or another logger's `NAME.txt` and the like, gives `NAME.setup.json`. */
export const companionName = (file: string, suffix: '.setup.json' | '.trials.csv'): string =>
  file.replace(textFile, '') + suffix;
