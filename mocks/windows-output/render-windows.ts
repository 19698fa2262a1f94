import type { RouteReading } from '../../src/facts/survey.ts';
import type { DescribedWindows } from './described-windows.ts';
import { type PrintedRows, windowsFramed } from './windows-framed.ts';
import {
  adapterRows,
  addressRows,
  hardwareRows,
  interfaceRows,
  ipRows,
  propertyRows,
  registryRows,
  statisticsRows,
  teamRows,
} from './windows-rows.ts';

/** What the reading script prints on the described host, between the marks. */
export function renderWindows(
  host: DescribedWindows,
  marker: string,
  peers: readonly string[],
): string {
  const asked = [...new Set(peers)];
  // What goes by the management interface is refused to a plain account as a whole.
  const managed = (section: string, rows: readonly object[]): PrintedRows =>
    host.plainAccount === true ? { section, rows: [], error: refused } : { section, rows };
  const routes = host.routes ?? [];
  return windowsFramed(
    marker,
    [
      { section: 'system', rows: [{ system: 'Windows', name: host.facts.systemName }] },
      { section: 'version', rows: [versionRow(host.facts.osVersion ?? '10.0.26100.1742')] },
      managed('uptime', [{ seconds: host.facts.uptimeSeconds }]),
      managed('adapters', adapterRows(host)),
      { section: 'interfaces', rows: interfaceRows(host) },
      { section: 'registry', rows: registryRows(host), error: oneKeyRefused },
      managed('ip', ipRows(host)),
      managed('addresses', addressRows(host)),
      managed('properties', propertyRows(host)),
      managed('teams', teamRows(host)),
      managed('statistics', statisticsRows(host)),
      managed('route-table', tableRows(host)),
      ...asked.map((to) => managed(`route ${to}`, routeRows(routes, to))),
      ...asked.map((to) => sourceOf(routes, to)),
      managed('mounts', mountRows(host)),
    ],
    [managed('hardware', hardwareRows(host))],
  );
}

/** WBEM_E_ACCESS_DENIED as a host that speaks German words it. */
const refused = {
  category: 18,
  id: 'HRESULT 0x80041003,Get-NetAdapter',
  message: 'Zugriff verweigert ',
};

/** The registry keeps one key of the class from plain accounts; the rows still come. */
const oneKeyRefused = {
  category: 18,
  id: 'System.Security.SecurityException,Microsoft.PowerShell.Commands.GetItemPropertyCommand',
  message: 'Der angeforderte Registrierungszugriff ist unzulässig.',
};

function versionRow(version: string): object {
  const [major = '', minor = '', CurrentBuildNumber, update = ''] = version.split('.');
  return {
    CurrentMajorVersionNumber: Number.parseInt(major, 10),
    CurrentMinorVersionNumber: Number.parseInt(minor, 10),
    CurrentBuildNumber,
    UBR: Number.parseInt(update, 10),
  };
}

function tableRows({ routeTable = [] }: DescribedWindows): readonly object[] {
  return routeTable.map(({ prefix, device, gateway, metric = 0 }) => ({
    DestinationPrefix: prefix,
    NextHop: gateway ?? (prefix.includes(':') ? '::' : '0.0.0.0'),
    InterfaceAlias: device,
    RouteMetric: Math.min(metric, 256),
    InterfaceMetric: metric - Math.min(metric, 256),
  }));
}

/** Find-NetRoute gives the own address and the route, one after the other. */
function routeRows(routes: readonly RouteReading[], to: string): readonly object[] {
  const route = routes.find((one) => one.to === to);
  if (route?.device === undefined) return [];
  return [
    { InterfaceAlias: route.device, NextHop: null, IPAddress: route.from },
    {
      InterfaceAlias: route.device,
      NextHop: route.gateway ?? (to.includes(':') ? '::' : '0.0.0.0'),
      IPAddress: null,
    },
  ];
}

function sourceOf(routes: readonly RouteReading[], to: string): PrintedRows {
  const route = routes.find((one) => one.to === to);
  const section = `source ${to}`;
  if (route?.from !== undefined) return { section, rows: [{ from: route.from }] };
  const message = 'Ein Socketvorgang bezog sich auf ein nicht verfügbares Netzwerk';
  return { section, rows: [], error: { category: 0, id: 'SocketException', message } };
}

function mountRows({ mounts = [] }: DescribedWindows): readonly object[] {
  return mounts.map(({ server, at }) => ({ LocalPath: at, RemotePath: `\\\\${server}\\share` }));
}
