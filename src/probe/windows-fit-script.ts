import { checkedAddress, checkedMarker } from '../collect/unix/literal.ts';
import { windowsScriptStart } from '../collect/windows/script-text.ts';
import { pingHeaderBytes, sortedSizes } from './fit-script.ts';
import { type FitRequest, packetsPerSize } from './fit-types.ts';

/** Every cmdlet and type of .NET that the fit's script for Windows can use. */
export const windowsFitCommands = [
  { command: 'Write-Output', reads: 'nothing: it prints' },
  { command: 'ConvertTo-Json', reads: 'nothing: it prints' },
  { command: '[System.Net.IPAddress]::Parse(ADDRESS)', reads: 'nothing: it takes the address' },
  {
    command: 'New-Object System.Net.Sockets.UdpClient',
    reads: 'own address towards the far end, no packet sent',
  },
  {
    command: 'New-Object System.Net.NetworkInformation.PingOptions',
    reads: 'nothing: it asks not to fragment',
  },
  {
    command: 'New-Object System.Net.NetworkInformation.Ping',
    reads: `whether a size passes; sends ${packetsPerSize} packets of it`,
  },
] as const;

// Larger sizes are not sent once one fails: some adapters have hung on a single large packet. The
// program ping words its answers in the language of the system; this class gives numbers.
const body = `${windowsScriptStart}$go = $true; Write-Output ''
Write-Output "$M begin 1"
Run 'source' { $f = [System.Net.IPAddress]::Parse($A); $u = New-Object System.Net.Sockets.UdpClient $f.AddressFamily; try { $u.Connect($f, 9); [pscustomobject]@{ from = $u.Client.LocalEndPoint.Address.ToString() } } finally { $u.Close() } }
foreach ($size in $sizes) { if ($go) { $go = $false; Run "ping $size" { $p = New-Object System.Net.NetworkInformation.Ping; $o = New-Object System.Net.NetworkInformation.PingOptions 64, $true; foreach ($i in 1..${packetsPerSize}) { $q = $p.Send($A, 1000, (New-Object byte[] $size), $o); if ([int]$q.Status -eq 0) { $global:go = $true }; [pscustomobject]@{ status = [int]$q.Status; address = [string]$q.Address } } } } }
Write-Output ''
Write-Output "$M end"
exit 0
`;

/**
 * The script that pings from Windows with "don't fragment" set, at most `packetsPerSize` packets of
 * each size, smallest first, and stops at the first size that does not come back.
 *
 * @throws on a marker, address or size that may not stand in a script: a bug of the caller
 */
export function windowsFitScript(parts: FitRequest & { readonly marker: string }): string {
  const marker = checkedMarker(parts.marker);
  const address = checkedAddress(parts.toAddress);
  const payloads = sortedSizes(parts.sizesBytes).map((size) => size - pingHeaderBytes(address));
  return `$M='${marker}'; $A='${address}'; $sizes=@(${payloads.join(',')})\n${body}`;
}
