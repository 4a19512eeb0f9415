type Preventable = { preventDefault(): void };
/** The parts of Electron's `webContents` and `session` that are used. */
export type LockedContents = {
  on(
    event: 'will-navigate' | 'will-frame-navigate' | 'will-redirect' | 'will-attach-webview',
    listener: (event: Preventable) => void,
  ): unknown;
  setWindowOpenHandler(handler: () => { action: 'deny' }): void;
};
export type LockedSession = {
  setPermissionRequestHandler(
    handler: (contents: unknown, permission: string, answer: (isGranted: boolean) => void) => void,
  ): void;
  setPermissionCheckHandler(handler: (contents: unknown, permission: string) => boolean): void;
  setDevicePermissionHandler(handler: () => boolean): void;
  setDisplayMediaRequestHandler(handler: null): void;
  webRequest: {
    onBeforeRequest(
      filter: { urls: string[] },
      listener: (details: unknown, answer: (decision: { cancel: boolean }) => void) => void,
    ): void;
  };
};

/**
 * What the switches need a browser's permission for: nothing. Keys and the Gamepad API are asked of nobody. A source that
 * needs one (`midi`, `hid`) adds its name here.
 */
export const SWITCH_PERMISSIONS: readonly string[] = [];
/** The page comes over its own scheme: nothing of it needs the network. */
const NETWORK = ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*'];

/** A page stays where it is: it goes to no other, opens no window, holds no guest. */
export function lockContents(contents: LockedContents): void {
  for (const event of [
    'will-navigate',
    'will-frame-navigate',
    'will-redirect',
    'will-attach-webview',
  ] as const)
    contents.on(event, (happening) => happening.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** Every permission but the switches' own is refused, and so is every request that would leave the computer. */
export function lockSession(session: LockedSession): void {
  const isGranted = (permission: string) => SWITCH_PERMISSIONS.includes(permission);
  session.setPermissionRequestHandler((_contents, permission, answer) => answer(isGranted(permission)));
  session.setPermissionCheckHandler((_contents, permission) => isGranted(permission));
  session.setDevicePermissionHandler(() => false);
  session.setDisplayMediaRequestHandler(null);
  session.webRequest.onBeforeRequest({ urls: NETWORK }, (_details, answer) => answer({ cancel: true }));
}
