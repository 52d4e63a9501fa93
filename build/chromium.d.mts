export declare const chromiumPrograms: string[];
export declare const chromiumPath: () => string;
