/**
 * One end of a transfer in Perl 5.14 and later, after a first line that sets %P. What it reads of a
 * connection stands at the places of struct tcp_info of Linux (include/uapi/linux/tcp.h) and FreeBSD
 * (netinet/tcp.h), and of struct tcp_connection_info of macOS (netinet/tcp.h). It ends by itself:
 * by its alarm, and as soon as its standard input ends. One text, since it is sent as one.
 */
export const perlProgram = String.raw`
use strict;
use Socket qw(:DEFAULT inet_pton inet_ntop pack_sockaddr_in6 unpack_sockaddr_in6);
use Time::HiRes qw(clock_gettime CLOCK_MONOTONIC);
use Fcntl;
use Errno;
our %P;
alarm($P{wait} + $P{seconds} + $P{drain} + 10);
$SIG{PIPE} = 'IGNORE';
my $in = fileno(STDIN);
my $v6 = $P{own} =~ /:/;

sub now { clock_gettime(CLOCK_MONOTONIC) }
sub tell_line { my $l = "$P{m} @_\n"; exit 4 unless syswrite(STDOUT, $l) }
sub fail { tell_line('failed', @_); exit 0 }
# Whoever started this is gone once its input ends.
sub gone { my $b; exit 3 unless sysread(STDIN, $b, 4096) }
sub why {
  return 'refused' if $!{ECONNREFUSED};
  return 'silent' if $!{ETIMEDOUT};
  return 'unreachable' if $!{EHOSTUNREACH} || $!{ENETUNREACH};
  return 'forbidden' if $!{EACCES} || $!{EPERM};
  return 'no-address' if $!{EADDRNOTAVAIL};
  return 'reset' if $!{ECONNRESET} || $!{EPIPE};
  return 'number-' . ($! + 0);
}
sub place {
  my ($a, $port) = @_;
  return $v6 ? pack_sockaddr_in6($port, inet_pton(AF_INET6, $a)) : pack_sockaddr_in($port, inet_aton($a));
}
sub who {
  my ($at) = @_;
  return $v6 ? inet_ntop(AF_INET6, (unpack_sockaddr_in6($at))[1]) : inet_ntoa((unpack_sockaddr_in($at))[1]);
}
sub plain { my ($a) = @_; $v6 ? inet_ntop(AF_INET6, inet_pton(AF_INET6, $a)) : $a }
sub fresh {
  my ($port) = @_;
  socket(my $s, $v6 ? AF_INET6 : AF_INET, SOCK_STREAM, 0) or fail('socket', why());
  bind($s, place($P{own}, $port)) or fail('bind', why());
  return $s;
}
sub loose {
  my ($s) = @_;
  fcntl($s, F_SETFL, fcntl($s, F_GETFL, 0) | O_NONBLOCK);
  setsockopt($s, 6, 1, pack('i', 1));
}
# Waits for one socket and for the input; false once the time is over.
sub wait_for {
  my ($s, $write, $until) = @_;
  while (1) {
    my $left = $until - now();
    return 0 if $left <= 0;
    my ($r, $w) = ('', '');
    vec($r, $in, 1) = 1;
    vec($write ? $w : $r, fileno($s), 1) = 1;
    next unless select($r, $w, undef, $left) > 0;
    gone() if vec($r, $in, 1);
    return 1 if vec($write ? $w : $r, fileno($s), 1);
  }
}
sub put {
  my ($s, $text) = @_;
  wait_for($s, 1, now() + $P{wait}) or fail('talk', 'silent');
  defined(syswrite($s, $text)) or fail('talk', why());
}
sub get {
  my ($s) = @_;
  wait_for($s, 0, now() + $P{wait}) or fail('talk', 'silent');
  my $n = sysread($s, my $b, 1);
  fail('talk', why()) unless defined $n;
  fail('talk', 'closed') unless $n;
  return $b;
}
sub listen_for {
  my $l = fresh(0);
  listen($l, $P{streams}) or fail('listen', why());
  my ($port) = $v6 ? unpack_sockaddr_in6(getsockname($l)) : unpack_sockaddr_in(getsockname($l));
  fcntl($l, F_SETFL, fcntl($l, F_GETFL, 0) | O_NONBLOCK);
  tell_line('port', $port);
  my $until = now() + $P{wait};
  my ($strangers, @known, %new) = (0);
  while (@known < $P{streams}) {
    my $left = $until - now();
    fail('nobody', $strangers) if $left <= 0 || $strangers > 16 || keys(%new) > 32;
    my $r = '';
    vec($r, $_, 1) = 1 for $in, fileno($l), keys %new;
    next unless select($r, undef, undef, $left) > 0;
    gone() if vec($r, $in, 1);
    if (vec($r, fileno($l), 1) and my $at = accept(my $c, $l)) {
      if (who($at) ne plain($P{peer})) { $strangers++; close $c }
      else { loose($c); $new{fileno $c} = [$c, ''] }
    }
    for my $n (keys %new) {
      next unless vec($r, $n, 1);
      my ($c, $said) = @{$new{$n}};
      my $got = sysread($c, $said, length("$P{token}\n") - length $said, length $said);
      next if !defined $got && $!{EAGAIN};
      $new{$n}[1] = $said;
      next if $got && length($said) < length("$P{token}\n");
      delete $new{$n};
      if ($said eq "$P{token}\n") { push @known, $c } else { $strangers++; close $c }
    }
  }
  close $l;
  return @known if $P{plain};
  put($_, '+') for @known;
  while (get($known[0]) eq '.') { put($known[0], '.') }
  return @known;
}
sub connect_to {
  my @s;
  for (1 .. $P{streams}) {
    my $s = fresh(0);
    loose($s);
    unless (connect($s, place($P{peer}, $P{port}))) {
      fail('connect', why()) unless $!{EINPROGRESS};
      wait_for($s, 1, now() + 5) or fail('connect', 'silent');
      $! = unpack('i', getsockopt($s, SOL_SOCKET, SO_ERROR));
      fail('connect', why()) if $! + 0;
    }
    put($s, "$P{token}\n");
    push @s, $s;
  }
  return @s if $P{plain};
  get($_) for @s;
  my $least;
  for (1 .. 8) {
    my $t = now();
    put($s[0], '.');
    get($s[0]);
    my $took = now() - $t;
    $least = $took if !defined $least || $took < $least;
  }
  tell_line('echo', int($least * 1e6 + 0.5));
  return @s;
}
sub u32 { my ($b, $at) = @_; return unpack('L', substr($b, $at, 4)) }
sub u64 { my ($b, $at) = @_; return eval { unpack('Q', substr($b, $at, 8)) } }
sub info {
  my ($s) = @_;
  my %i;
  if ($^O eq 'linux' or $^O eq 'freebsd') {
    my $b = getsockopt($s, 6, $^O eq 'linux' ? 11 : 32);
    return \%i unless defined $b && length $b >= 104;
    $i{rtt} = u32($b, 68);
    if ($^O eq 'freebsd') { $i{resent} = u32($b, 120) if length $b >= 124; return \%i }
    $i{mss} = u32($b, 16);
    $i{stamps} = ord(substr($b, 5, 1)) & 1;
    $i{resent} = u32($b, 100);
    $i{least} = u32($b, 148) if length $b >= 152;
    @i{qw(busy window buffer)} = map { u64($b, $_) } 168, 176, 184 if length $b >= 192;
    @i{qw(bytes again)} = map { u64($b, $_) } 200, 208 if length $b >= 216;
  } elsif ($^O eq 'darwin') {
    my $b = getsockopt($s, 6, 0x106);
    return \%i unless defined $b && length $b >= 80;
    # Its round trip is in whole milliseconds: of no use in a local network.
    @i{qw(bytes again)} = map { u64($b, $_) } 64, 72;
  }
  delete $i{least} if defined $i{least} && $i{least} == 4294967295;
  delete $i{rtt} unless $i{rtt};
  return \%i;
}
sub pairs { my ($i) = @_; return map { defined $i->{$_} ? "$_=$i->{$_}" : () } sort keys %$i }
sub tick {
  my ($from, $bytes, @s) = @_;
  my ($sum, $count, $resent) = (0, 0);
  for my $i (map { info($_) } @s) {
    if (defined $i->{rtt}) { $sum += $i->{rtt}; $count++ }
    $resent += $i->{resent} if defined $i->{resent};
  }
  tell_line('tick', int((now() - $from) * 1e3 + 0.5), $bytes,
    $count ? int($sum / $count + 0.5) : '-', defined $resent ? $resent : '-');
}
# Of all processor cores, from /proc/stat: name, busy, all.
sub cores {
  my %c;
  open(my $f, '<', '/proc/stat') or return \%c;
  while (my $l = <$f>) {
    last unless $l =~ /^(cpu\d*)\s+(.*)/;
    my ($name, @t) = ($1, (split ' ', $2)[0 .. 7]);
    my $all = 0;
    $all += $_ || 0 for @t;
    $c{$name} = [$all - $t[3] - $t[4], $all];
  }
  return \%c;
}
sub share { my ($busy, $all) = @_; return $all > 0 ? int($busy / $all * 1000 + 0.5) : '-' }
sub load_of {
  my ($start, $end, $own, $took) = @_;
  my ($most, $count, $whole) = ('-', 0, '-');
  for my $name (keys %$end) {
    my ($a, $b) = ($start->{$name}, $end->{$name});
    next unless $a;
    my $is = share($b->[0] - $a->[0], $b->[1] - $a->[1]);
    if ($name eq 'cpu') { $whole = $is; next }
    $count++;
    $most = $is if $is ne '-' && ($most eq '-' || $is > $most);
  }
  tell_line('cpu', $took > 0 ? int($own / $took * 1000 + 0.5) : '-', $most, $whole, $count || '-');
}
sub own_time { my ($u, $s) = times(); return $u + $s }

my @s = $P{role} eq 'listen' ? listen_for() : connect_to();
tell_line('idle', pairs(info($s[0])));
put($s[0], '!') if $P{role} eq 'connect' && !$P{plain};
my ($cores, $own, $from, $last, $bytes, $next) = (cores(), own_time(), now(), undef, 0);
my $size = 262144;
if ($P{way} eq 'receive') {
  my %open = map { fileno($_) => $_ } @s;
  my $all = '';
  vec($all, $_, 1) = 1 for $in, keys %open;
  my $until = $from + $P{wait};
  my ($first, $buffer, $cut);
  while (%open) {
    my $wake = defined $next && $next < $until ? $next : $until;
    my $left = $wake - now();
    my $n = select(my $r = $all, undef, undef, $left > 0 ? $left : 0);
    my $now = now();
    if ($n > 0) {
      gone() if vec($r, $in, 1);
      for my $fd (keys %open) {
        next unless vec($r, $fd, 1);
        my $got = sysread($open{$fd}, $buffer, $size);
        if ($got) {
          unless (defined $first) {
            $first = $from = $now;
            $next = $from + 1;
            $until = $from + $P{seconds} + $P{drain};
          }
          $bytes += $got;
          $last = $now;
        } elsif (defined $got || !$!{EAGAIN}) {
          fail('lost', why()) unless defined $got;
          delete $open{$fd};
          vec($all, $fd, 1) = 0;
        }
      }
    }
    if (defined $next && $now >= $next) { tick($from, $bytes, @s); $next += 1 }
    if ($now >= $until || $bytes > $P{cap}) { $cut = 1; last }
  }
  $last = now() unless defined $last;
  tell_line('got', int(($last - $from) * 1e6 + 0.5), $bytes, $cut ? 'cut' : 'whole');
} else {
  my $block = '';
  $block .= pack('L', int(rand(4294967296))) for 1 .. 16384;
  $block x= 4;
  ($own, $from) = (own_time(), now());
  my ($all, $quiet) = ('', '');
  vec($all, fileno($_), 1) = 1 for @s;
  vec($quiet, $in, 1) = 1;
  my ($until, $why) = ($from + $P{seconds}, 'time');
  $next = $from + 1;
  while (1) {
    my $now = now();
    last if $now >= $until;
    if ($now >= $next) { tick($from, $bytes, @s); $next += 1 }
    my $wake = ($next < $until ? $next : $until) - $now;
    next unless select(my $r = $quiet, my $w = $all, undef, $wake) > 0;
    gone() if vec($r, $in, 1);
    for my $s (@s) {
      next unless vec($w, fileno($s), 1);
      my $most = $P{cap} - $bytes;
      my $put = syswrite($s, $block, $most < $size ? $most : $size);
      if (defined $put) { $bytes += $put } elsif (!$!{EAGAIN}) { fail('lost', why()) }
      if ($bytes >= $P{cap}) { $why = 'cap'; last }
    }
    last if $why eq 'cap';
  }
  $last = now();
  shutdown($_, 1) for @s;
  $until = now() + $P{drain};
  for my $s (@s) {
    while (wait_for($s, 0, $until)) { last unless sysread($s, my $b, 4096) }
  }
  tell_line('sent', int(($last - $from) * 1e6 + 0.5), $bytes, $why);
}
load_of($cores, cores(), own_time() - $own, now() - $from);
tell_line('flow', pairs(info($_))) for @s;
tell_line('end');
exit 0;
`;
