import { createContext } from 'react';

/** Opens cautions and help, where the screen around has them. */
export const HelpOpening = createContext<(() => void) | null>(null);
