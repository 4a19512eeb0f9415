import { type ReactElement, type ReactNode, useState } from 'react';

type FoldedProps = {
  title: string;
  id?: string;
  /** Made only once it has been opened: for what takes time to work out. */
  isLazy?: boolean;
  children: ReactNode;
};

/** A part that is there when it is wanted: its title stands alone until it is opened. */
export function Folded({ title, id, isLazy = false, children }: FoldedProps): ReactElement {
  const [wasOpened, setOpened] = useState(false);
  return (
    <details id={id} onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>{title}</summary>
      {isLazy && !wasOpened ? null : children}
    </details>
  );
}
