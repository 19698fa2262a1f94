import { describe, expect, it } from 'vitest';
import { windowsScriptBody } from '../../../src/collect/windows/script-text.ts';
import { windowsCommands } from '../../../src/collect/windows/windows-commands.ts';
import { windowsScript } from '../../../src/collect/windows/windows-script.ts';
import { cmdletsOf, methodsOf, typesOf } from './powershell-words.ts';

const marker = 'mark-7';

describe('windowsScript', () => {
  it('generates the first line and no other', () => {
    expect(windowsScript({ marker, peers: ['198.18.0.10', 'fd00:5e::10'] })).toBe(
      `$M='mark-7'; $P=@('198.18.0.10','fd00:5e::10')\n${windowsScriptBody}`,
    );
    expect(windowsScript({ marker, peers: [] })).toBe(`$M='mark-7'; $P=@()\n${windowsScriptBody}`);
  });

  it.each([[''], ["a'b"], ['a b'], ['a\nb'], ['$(calc)'], ['`a'], ['ä']])(
    'refuses the marker %j',
    (text) => {
      expect(() => windowsScript({ marker: text, peers: [] })).toThrow('marker');
    },
  );

  it.each([["198.18.0.1'; calc; '"], ['vault'], ['fe80::1%12'], ['198.18.0.1\n'], ['$env:x']])(
    'refuses the peer %j',
    (text) => {
      expect(() => windowsScript({ marker, peers: [text] })).toThrow('literal IP address');
    },
  );

  it('asks for 64 peers at most', () => {
    const peers = Array.from({ length: 100 }, (_, i) => `198.18.1.${i}`);
    expect(windowsScript({ marker, peers }).split('\n')[0]?.split(',')).toHaveLength(64);
  });
});

describe('the constant part', () => {
  const lines = windowsScriptBody.split('\n');

  it('is plain ASCII, which every code page reads alike', () => {
    expect(windowsScriptBody).toMatch(/^[\n\x20-\x7e]*$/);
  });

  // PowerShell takes standard input line by line as if typed: an open block would wait for an empty
  // line and swallow what follows.
  it('has every statement whole on one line', () => {
    for (const line of lines) {
      const bare = withoutStrings(line);
      for (const [open, close] of ['{}', '()', '[]'] as const) {
        const count = (character: string) => bare.split(character).length - 1;
        expect(count(open ?? ''), line).toBe(count(close ?? ''));
      }
      expect(bare, line).not.toMatch(/[|,`]\s*$|['"]/);
    }
    expect(lines.length).toBeGreaterThan(20);
    expect(windowsScriptBody.endsWith('\nexit 0\n')).toBe(true);
  });

  it('uses the listed cmdlets and types of .NET, and nothing else', () => {
    const listed = windowsCommands.map(({ command }) => command);
    const cmdlets = new Set(listed.flatMap((command) => command.match(/^[A-Z]\w+-\w+/) ?? []));
    expect([...new Set(cmdletsOf(windowsScriptBody))].sort()).toEqual([...cmdlets].sort());
    const types = new Set(listed.flatMap((command) => command.match(/System\.[\w.]+\w/g) ?? []));
    expect([...new Set(typesOf(windowsScriptBody))].sort()).toEqual([...types].sort());
  });

  it('uses cmdlets that read or print', () => {
    for (const cmdlet of cmdletsOf(windowsScriptBody)) {
      expect(cmdlet).toMatch(/^(?:Get|Find|Select|ConvertTo|Write|New)-/);
      expect(cmdlet).not.toMatch(/^New-(?!Object$)|^Write-(?!Output$)/);
    }
  });

  it('calls methods that read', () => {
    expect([...new Set(methodsOf(windowsScriptBody))].sort()).toEqual([
      'Close',
      'Connect',
      'GetAllNetworkInterfaces',
      'GetIPProperties',
      'GetIPStatistics',
      'GetIPv4Properties',
      'GetPhysicalAddress',
      'Parse',
      'ToCharArray',
      'ToString',
    ]);
  });

  it('writes to no file and runs no text', () => {
    const bare = lines.map(withoutStrings).join('\n');
    expect(bare).not.toMatch(/(?:^|[^-])>|Invoke|iex|\bStart\b|Set-|Remove-|Out-|Add-|Import-/);
    // The one call of a block is that of `Run`.
    expect(bare.match(/&/g)).toHaveLength(1);
    expect(bare).toContain('$x = @(& $b)');
  });
});

describe('the check of words itself', () => {
  it.each([
    ['Stop-Computer'],
    ['$x = @(Stop-Computer)'],
    ["Run 'a' { Stop-Computer -Force }"],
    ['Get-NetAdapter | Stop-Computer'],
    ['if ($a) { 1 } else { Stop-Computer }'],
    ['foreach ($a in Stop-Computer) { 1 }'],
  ])('finds the cmdlet in %s', (line) => {
    expect(cmdletsOf(line)).toContain('Stop-Computer');
  });

  it.each([['shutdown /s'], ['$x = @(shutdown)'], ['{ shutdown }'], ['1; shutdown'], ['a | gci']])(
    'finds the program in %s',
    (line) => {
      expect(() => cmdletsOf(line)).toThrow(/not a cmdlet/);
    },
  );

  it('finds types and methods', () => {
    expect(typesOf('[System.IO.File]::Delete($a); New-Object System.Net.WebClient')).toEqual([
      'System.IO.File',
      'System.Net.WebClient',
    ]);
    expect(methodsOf('[System.IO.File]::Delete($a); $a.Kill()')).toEqual(['Delete', 'Kill']);
  });
});

function withoutStrings(line: string): string {
  return line.replaceAll(/'[^']*'|"[^"]*"/g, '');
}
