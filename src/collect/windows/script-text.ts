/** Routes that are taken of the routing table of a Windows host. */
export const routeRowsMax = 4096;

/** Registry class of network adapters, as Windows has it on every host. */
const adapterClass =
  'HKLM:\\SYSTEM\\CurrentControlSet\\Control\\Class\\{4d36e972-e325-11ce-bfc1-08002be10318}\\0*';

/**
 * How every script for a Windows host begins. `Put` prints text in short lines of plain ASCII, so
 * that no code page and no width of a console can change it; `Run NAME BLOCK` prints what a block
 * gives as one JSON list between the marks, and where something failed its category as a number and
 * its identifier, which Windows does not translate.
 *
 * PowerShell takes its standard input line by line, as if typed: every statement stands on one line.
 */
export const windowsScriptStart = `$ErrorActionPreference = 'SilentlyContinue'; $ProgressPreference = 'SilentlyContinue'; $WarningPreference = 'SilentlyContinue'
function Put($s) { $s = [string]$s; if ($s -cmatch '[^\\x20-\\x7e]') { $s = -join @(foreach ($c in $s.ToCharArray()) { $n = [int]$c; if ($n -ge 32 -and $n -le 126) { $c } else { '\\u{0:x4}' -f $n } }) }; foreach ($l in ($s -split '(?<=\\G.{72})')) { if ($l -ne '') { Write-Output $l } } }
function Run($n, $b) { Write-Output ''; Write-Output "$M open $n"; $k = $Error.Count; $x = @(); $r = 0; $w = ''; try { $x = @(& $b) } catch { $r = 1 }; if ($Error.Count -gt $k) { $r = 1; $z = $Error[$Error.Count - $k - 1]; $w = ConvertTo-Json -Compress -InputObject ([pscustomobject]@{ category = [int]$z.CategoryInfo.Category; id = [string]$z.FullyQualifiedErrorId; message = [string]$z.Exception.Message }) }; Put (ConvertTo-Json -Compress -Depth 4 -InputObject $x); Write-Output "$M words"; Put $w; Write-Output "$M close $r" }
`;

/**
 * The part of the script that never changes. It only reads: every cmdlet and every type of .NET in
 * it is in `windowsCommands`. Words of Windows are translated, so nothing is read but numbers,
 * names that an operator gave, and texts of drivers. What an account may not ask of the management
 * interface (CIM), as one without administration rights over SSH, is asked a second time of .NET
 * and the registry, which any account may read.
 */
export const windowsScriptBody = `${windowsScriptStart}Write-Output ''
Write-Output "$M begin 1"
Run 'system' { [pscustomobject]@{ system = 'Windows'; name = $env:COMPUTERNAME } }
Run 'version' { Get-ItemProperty -LiteralPath 'HKLM:\\SOFTWARE\\Microsoft\\Windows NT\\CurrentVersion' | Select-Object CurrentMajorVersionNumber, CurrentMinorVersionNumber, CurrentBuildNumber, UBR }
Run 'uptime' { Get-CimInstance -ClassName Win32_OperatingSystem | Select-Object @{ n = 'seconds'; e = { [int64]($_.LocalDateTime - $_.LastBootUpTime).TotalSeconds } } }
Run 'adapters' { Get-NetAdapter | Select-Object Name, InterfaceDescription, InterfaceGuid, InterfaceIndex, InterfaceType, NdisPhysicalMedium, HardwareInterface, Virtual, InterfaceOperationalStatus, InterfaceAdminStatus, MediaConnectState, ReceiveLinkSpeed, TransmitLinkSpeed, FullDuplex, MediaDuplexState, DriverName, DriverVersionString, VlanID, MacAddress, PermanentAddress }
Run 'interfaces' { foreach ($i in [System.Net.NetworkInformation.NetworkInterface]::GetAllNetworkInterfaces()) { $q = $i.GetIPProperties(); $v = $null; $s = $null; try { $v = $q.GetIPv4Properties() } catch { $v = $null }; try { $s = $i.GetIPStatistics() } catch { $s = $null }; [pscustomobject]@{ Name = $i.Name; Description = $i.Description; Id = $i.Id; Type = [int]$i.NetworkInterfaceType; Status = [int]$i.OperationalStatus; Speed = $i.Speed; Mac = $i.GetPhysicalAddress().ToString(); Index = $v.Index; Mtu = $v.Mtu; Addresses = @(foreach ($a in $q.UnicastAddresses) { '{0}/{1}' -f $a.Address, $a.PrefixLength }); BytesReceived = $s.BytesReceived; BytesSent = $s.BytesSent; UnicastReceived = $s.UnicastPacketsReceived; OtherReceived = $s.NonUnicastPacketsReceived; UnicastSent = $s.UnicastPacketsSent; OtherSent = $s.NonUnicastPacketsSent; ReceivedErrors = $s.IncomingPacketsWithErrors; ReceivedDiscards = $s.IncomingPacketsDiscarded; SentErrors = $s.OutgoingPacketsWithErrors; SentDiscards = $s.OutgoingPacketsDiscarded } } }
Run 'registry' { Get-ItemProperty -Path '${adapterClass}' | Select-Object NetCfgInstanceId, Characteristics, DriverVersion, VlanID, @{ n = 'JumboPacket'; e = { $_.'*JumboPacket' } }, @{ n = 'SpeedDuplex'; e = { $_.'*SpeedDuplex' } }, @{ n = 'Eee'; e = { $_.'*EEE' } } }
Run 'ip' { Get-NetIPInterface | Select-Object InterfaceIndex, InterfaceAlias, AddressFamily, NlMtu }
Run 'addresses' { Get-NetIPAddress | Select-Object InterfaceIndex, IPAddress, PrefixLength }
Run 'properties' { Get-NetAdapterAdvancedProperty -RegistryKeyword '*JumboPacket', '*SpeedDuplex', '*EEE', 'VlanID' | Select-Object Name, RegistryKeyword, RegistryValue, ValidRegistryValues, NumericParameterMaxValue }
Run 'teams' { Get-NetLbfoTeam | Select-Object Name, Members, TeamNics }
Run 'statistics' { Get-NetAdapterStatistics | Select-Object Name, ReceivedBytes, ReceivedUnicastPackets, ReceivedMulticastPackets, ReceivedBroadcastPackets, ReceivedPacketErrors, ReceivedDiscardedPackets, SentBytes, SentUnicastPackets, SentMulticastPackets, SentBroadcastPackets, OutboundPacketErrors, OutboundDiscardedPackets }
Run 'route-table' { Get-NetRoute -PolicyStore ActiveStore | Select-Object -First ${routeRowsMax + 1} DestinationPrefix, NextHop, InterfaceAlias, RouteMetric, InterfaceMetric }
foreach ($a in $P) { Run "route $a" { Find-NetRoute -RemoteIPAddress $a | Select-Object InterfaceAlias, NextHop, IPAddress } }
foreach ($a in $P) { Run "source $a" { $f = [System.Net.IPAddress]::Parse($a); $u = New-Object System.Net.Sockets.UdpClient $f.AddressFamily; try { $u.Connect($f, 9); [pscustomobject]@{ from = $u.Client.LocalEndPoint.Address.ToString() } } finally { $u.Close() } } }
Run 'mounts' { Get-SmbMapping | Select-Object LocalPath, RemotePath }
Write-Output ''
Write-Output "$M rest"
Run 'hardware' { Get-NetAdapterHardwareInfo | Select-Object Name, PciExpressCurrentLinkSpeedEncoded, PciExpressCurrentLinkWidth, PciExpressMaxLinkSpeedEncoded, PciExpressMaxLinkWidth }
Write-Output ''
Write-Output "$M end"
exit 0
`;
