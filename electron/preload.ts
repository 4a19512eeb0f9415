import { contextBridge, ipcRenderer } from 'electron';
import { type Bridge, makeBridge } from './contract.ts';
import { makeIpcCarrier } from './ipc-carrier.ts';

contextBridge.exposeInMainWorld('antiphon', makeBridge(makeIpcCarrier(ipcRenderer)) satisfies Bridge);
