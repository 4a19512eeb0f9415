type LayoutMap = { get(code: string): string | undefined };
type KeyboardLayout = { getLayoutMap(): Promise<LayoutMap> };

/** What is printed on the keys of this keyboard, where the browser tells; codes alone name a US keyboard's. */
export async function loadKeyLayout(navigator: Navigator): Promise<(code: string) => string | undefined> {
  const { keyboard } = navigator as Navigator & { keyboard?: KeyboardLayout };
  if (keyboard === undefined) return () => undefined;
  try {
    const layout = await keyboard.getLayoutMap();
    return (code) => layout.get(code);
  } catch {
    return () => undefined;
  }
}
