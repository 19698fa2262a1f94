/** One cmdlet or type of .NET that the script for Windows can use. */
export interface WindowsCommand {
  /** As the script writes it; `ADDRESS` stands for what is put in. */
  readonly command: string;
  readonly reads: string;
}

const registryKey = 'HKLM:\\SYSTEM\\CurrentControlSet\\Control\\Class\\{4d36e972-...}';

/** Every cmdlet and every type of .NET that the script can use, in its order. */
export const windowsCommands: readonly WindowsCommand[] = [
  { command: 'Write-Output', reads: 'nothing: it prints' },
  { command: 'ConvertTo-Json', reads: 'nothing: it prints' },
  { command: 'Select-Object', reads: 'nothing: it keeps some properties' },
  {
    command: "Get-ItemProperty 'HKLM:\\SOFTWARE\\Microsoft\\Windows NT\\CurrentVersion'",
    reads: 'version of the system',
  },
  {
    command: 'Get-CimInstance -ClassName Win32_OperatingSystem',
    reads: 'time since it started',
  },
  { command: 'Get-NetAdapter', reads: 'adapters: state, speed, duplex, driver' },
  {
    command: '[System.Net.NetworkInformation.NetworkInterface]::GetAllNetworkInterfaces()',
    reads: 'interfaces: MTU, speed, addresses, counters; for any account',
  },
  {
    command: `Get-ItemProperty '${registryKey}\\0*'`,
    reads: "the drivers' own settings; for any account",
  },
  { command: 'Get-NetIPInterface', reads: 'MTU of IP' },
  { command: 'Get-NetIPAddress', reads: 'addresses' },
  {
    command: 'Get-NetAdapterAdvancedProperty -RegistryKeyword KEYWORDS',
    reads: "the drivers' settings: largest frame, speed, energy saving, VLAN",
  },
  { command: 'Get-NetLbfoTeam', reads: 'teams of adapters' },
  { command: 'Get-NetAdapterStatistics', reads: 'counters' },
  { command: 'Get-NetRoute', reads: 'routing table' },
  {
    command: 'Find-NetRoute -RemoteIPAddress ADDRESS',
    reads: 'port towards a peer, no packet sent',
  },
  {
    command: '[System.Net.IPAddress]::Parse(ADDRESS)',
    reads: 'nothing: it takes the address for the next one',
  },
  {
    command: 'New-Object System.Net.Sockets.UdpClient',
    reads: 'own address towards a peer, no packet sent; for any account',
  },
  { command: 'Get-SmbMapping', reads: 'file servers that this account has mapped' },
  { command: 'Get-NetAdapterHardwareInfo', reads: 'PCI Express link of an adapter' },
];
