import { checkedAddress, checkedMarker } from '../collect/unix/literal.ts';
import { windowsScriptStart } from '../collect/windows/script-text.ts';
import { payloadsOf } from './fit-plan.ts';
import { type FitRequest, fitPacketsMax, nearSizesMax, triesPerSize } from './fit-types.ts';

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
    reads: `whether a size passes; sends one packet, ${fitPacketsMax} in all at most`,
  },
] as const;

// The same search as `fitScript` makes. `Tell` leaves in g: 0 silent, 1 passes, 2 an answer that is
// none. The program ping words its answers in the language of the system; this class gives numbers.
const body = `${windowsScriptStart}$left = ${fitPacketsMax}; $g = 0; $best = 0; $lost = 0; Write-Output ''
function Tell($size) { $global:g = 0; foreach ($t in 1..${triesPerSize}) { if ($g -eq 0 -and $left -gt 0) { $global:left = $left - 1; Run "ping $size.$t" { $p = New-Object System.Net.NetworkInformation.Ping; $o = New-Object System.Net.NetworkInformation.PingOptions 64, $true; $q = $p.Send($A, 1000, (New-Object byte[] $size), $o); $y = [int]$q.Status; if ($y -eq 0) { $global:g = 1 } else { if ($y -ne 11010) { $global:g = 2 } }; [pscustomobject]@{ status = $y; address = [string]$q.Address } } } } }
Write-Output "$M begin 1"
Run 'source' { $f = [System.Net.IPAddress]::Parse($A); $u = New-Object System.Net.Sockets.UdpClient $f.AddressFamily; try { $u.Connect($f, 9); [pscustomobject]@{ from = $u.Client.LocalEndPoint.Address.ToString() } } finally { $u.Close() } }
foreach ($size in $sizes) { if ($lost -eq 0) { Tell $size; if ($g -eq 1) { $best = $size } else { $lost = $size } } }
$how = $g; $low = 0; $high = 0
if ($lost -gt 0 -and $best -eq 0 -and $floor -lt $lost) { Tell $floor; if ($g -eq 1) { $best = $floor } }
if ($best -gt 0 -and $how -eq 0 -and $lost -eq $sizes[-1]) { $high = $near.Count + 1 }
foreach ($i in 1..${nearSizesMax}) { if ($high - $low -gt 1 -and $left -gt 0) { $at = $low + $high; $at = ($at - $at % 2) / 2; Tell ($near[$at - 1]); if ($g -eq 1) { $low = $at } else { $high = $at } } }
Write-Output ''
Write-Output "$M end"
exit 0
`;

/**
 * The script that pings from Windows with "don't fragment" set: the search of `fitScript`, less
 * the size that a router tells, which this class does not give.
 *
 * @throws on a marker, address or size that may not stand in a script: a bug of the caller
 */
export function windowsFitScript(parts: FitRequest & { readonly marker: string }): string {
  const marker = checkedMarker(parts.marker);
  const address = checkedAddress(parts.toAddress);
  const { risingBytes, nearBytes, floorBytes } = payloadsOf(parts.plan, address);
  const words = [
    ...[`$M='${marker}'`, `$A='${address}'`, `$sizes=@(${risingBytes.join(',')})`],
    ...[`$near=@(${nearBytes.join(',')})`, `$floor=${floorBytes}`],
  ];
  return `${words.join('; ')}\n${body}`;
}
