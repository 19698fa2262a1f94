/**
 * One end of a transfer in Python 3.4 and later, after a first line that sets P: the same as the
 * program in Perl, with the same answers. It is never run on macOS. One text, since it is sent as one.
 */
export const pythonProgram = String.raw`
import errno, os, random, select, signal, socket, struct, sys, time
signal.alarm(P['wait'] + P['seconds'] + P['drain'] + 10)
v6 = ':' in P['own']
now = time.monotonic
size = 262144

def tell(*words):
    try:
        os.write(1, (' '.join([P['m']] + [str(w) for w in words]) + '\n').encode())
    except OSError:
        os._exit(4)

def fail(*words):
    tell('failed', *words)
    os._exit(0)

# Whoever started this is gone once its input ends.
def gone():
    if not os.read(0, 4096):
        os._exit(3)

names = {errno.ECONNREFUSED: 'refused', errno.ETIMEDOUT: 'silent', errno.EHOSTUNREACH: 'unreachable',
         errno.ENETUNREACH: 'unreachable', errno.EACCES: 'forbidden', errno.EPERM: 'forbidden',
         errno.EADDRNOTAVAIL: 'no-address', errno.ECONNRESET: 'reset', errno.EPIPE: 'reset'}

def why(number):
    return names.get(number, 'number-%d' % (number or 0))

def plain(address):
    return socket.inet_ntop(socket.AF_INET6, socket.inet_pton(socket.AF_INET6, address)) if v6 else address

def fresh():
    try:
        s = socket.socket(socket.AF_INET6 if v6 else socket.AF_INET, socket.SOCK_STREAM)
    except OSError as e:
        fail('socket', why(e.errno))
    try:
        s.bind((P['own'], 0))
    except OSError as e:
        fail('bind', why(e.errno))
    return s

def loose(s):
    s.setblocking(False)
    s.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

# Waits for one socket and for the input; false once the time is over.
def wait_for(s, write, until):
    while True:
        left = until - now()
        if left <= 0:
            return False
        r, w, _ = select.select([0] if write else [0, s], [s] if write else [], [], left)
        if 0 in r:
            gone()
        if s in r or s in w:
            return True

def put(s, text):
    if not wait_for(s, True, now() + P['wait']):
        fail('talk', 'silent')
    try:
        s.send(text)
    except OSError as e:
        fail('talk', why(e.errno))

def get(s):
    if not wait_for(s, False, now() + P['wait']):
        fail('talk', 'silent')
    try:
        b = s.recv(1)
    except OSError as e:
        fail('talk', why(e.errno))
    if not b:
        fail('talk', 'closed')
    return b

def listen_for():
    l = fresh()
    l.listen(P['streams'])
    l.setblocking(False)
    tell('port', l.getsockname()[1])
    until = now() + P['wait']
    token = (P['token'] + '\n').encode()
    strangers, known, new = 0, [], {}
    while len(known) < P['streams']:
        left = until - now()
        if left <= 0 or strangers > 16 or len(new) > 32:
            fail('nobody', strangers)
        r, _, _ = select.select([0, l] + list(new), [], [], left)
        if 0 in r:
            gone()
        if l in r:
            try:
                c, at = l.accept()
            except OSError:
                c = None
            if c is not None and plain(at[0]) != plain(P['peer']):
                strangers += 1
                c.close()
            elif c is not None:
                loose(c)
                new[c] = b''
        for c in [c for c in r if c in new]:
            try:
                got = c.recv(len(token) - len(new[c]))
            except BlockingIOError:
                continue
            except OSError:
                got = b''
            new[c] += got
            if got and len(new[c]) < len(token):
                continue
            if new.pop(c) == token:
                known.append(c)
            else:
                strangers += 1
                c.close()
    l.close()
    if P['plain']:
        return known
    for s in known:
        put(s, b'+')
    while get(known[0]) == b'.':
        put(known[0], b'.')
    return known

def connect_to():
    made = []
    for _ in range(P['streams']):
        s = fresh()
        loose(s)
        number = s.connect_ex((P['peer'], P['port']))
        if number == errno.EINPROGRESS:
            if not wait_for(s, True, now() + 5):
                fail('connect', 'silent')
            number = s.getsockopt(socket.SOL_SOCKET, socket.SO_ERROR)
        if number:
            fail('connect', why(number))
        put(s, (P['token'] + '\n').encode())
        made.append(s)
    if P['plain']:
        return made
    for s in made:
        get(s)
    least = None
    for _ in range(8):
        t = now()
        put(made[0], b'.')
        get(made[0])
        took = now() - t
        least = took if least is None or took < least else least
    tell('echo', int(least * 1e6 + 0.5))
    return made

def info(s):
    i = {}
    linux = sys.platform.startswith('linux')
    if not linux and not sys.platform.startswith('freebsd'):
        return i
    try:
        b = s.getsockopt(socket.IPPROTO_TCP, 11 if linux else 32, 256)
    except OSError:
        return i
    u32 = lambda at: struct.unpack_from('=L', b, at)[0]
    u64 = lambda at: struct.unpack_from('=Q', b, at)[0]
    if len(b) < 104:
        return i
    if u32(68):
        i['rtt'] = u32(68)
    if not linux:
        if len(b) >= 124:
            i['resent'] = u32(120)
        return i
    i['mss'], i['stamps'], i['resent'] = u32(16), b[5] & 1, u32(100)
    if len(b) >= 152 and u32(148) != 4294967295:
        i['least'] = u32(148)
    if len(b) >= 192:
        i['busy'], i['window'], i['buffer'] = u64(168), u64(176), u64(184)
    if len(b) >= 216:
        i['bytes'], i['again'] = u64(200), u64(208)
    return i

def pairs(i):
    return ['%s=%d' % (name, i[name]) for name in sorted(i)]

def tick(start, bytes_, made):
    all_ = [info(s) for s in made]
    rtts = [i['rtt'] for i in all_ if 'rtt' in i]
    resent = [i['resent'] for i in all_ if 'resent' in i]
    tell('tick', int((now() - start) * 1e3 + 0.5), bytes_,
         int(sum(rtts) / len(rtts) + 0.5) if rtts else '-', sum(resent) if resent else '-')

# Of all processor cores, from /proc/stat: name, busy, all.
def cores():
    c = {}
    try:
        with open('/proc/stat') as f:
            for line in f:
                if not line.startswith('cpu'):
                    break
                name, t = line.split()[0], [int(n) for n in line.split()[1:9]]
                c[name] = (sum(t) - t[3] - t[4], sum(t))
    except (OSError, ValueError, IndexError):
        pass
    return c

def load_of(a, b, own, took):
    share = lambda n: int((b[n][0] - a[n][0]) / (b[n][1] - a[n][1]) * 1000 + 0.5) if b[n][1] > a[n][1] else 0
    each = [share(n) for n in b if n in a and n != 'cpu']
    whole = share('cpu') if 'cpu' in a and 'cpu' in b else '-'
    tell('cpu', int(own / took * 1000 + 0.5) if took > 0 else '-',
         max(each) if each else '-', whole, len(each) or '-')

def own_time():
    t = os.times()
    return t[0] + t[1]

def receive(made):
    start, first, last, bytes_, next_, cut = now(), None, None, 0, None, False
    until = start + P['wait']
    buffer = memoryview(bytearray(size))
    open_ = list(made)
    while open_:
        wake = next_ if next_ is not None and next_ < until else until
        r, _, _ = select.select([0] + open_, [], [], max(0, wake - now()))
        at = now()
        for s in r:
            if s == 0:
                gone()
                continue
            try:
                got = s.recv_into(buffer)
            except BlockingIOError:
                continue
            except OSError as e:
                fail('lost', why(e.errno))
            if not got:
                open_.remove(s)
                continue
            if first is None:
                first = start = at
                next_ = start + 1
                until = start + P['seconds'] + P['drain']
            bytes_ += got
            last = at
        if next_ is not None and at >= next_:
            tick(start, bytes_, made)
            next_ += 1
        if at >= until or bytes_ > P['cap']:
            cut = True
            break
    last = now() if last is None else last
    tell('got', int((last - start) * 1e6 + 0.5), bytes_, 'cut' if cut else 'whole')
    return start

def send(made):
    block = memoryview(os.urandom(65536) * (size // 65536))
    start, bytes_, reason = now(), 0, 'time'
    until, next_ = start + P['seconds'], start + 1
    while reason == 'time':
        at = now()
        if at >= until:
            break
        if at >= next_:
            tick(start, bytes_, made)
            next_ += 1
        r, w, _ = select.select([0], made, [], max(0, min(next_, until) - at))
        if r:
            gone()
        for s in w:
            try:
                bytes_ += s.send(block[:min(size, P['cap'] - bytes_)])
            except BlockingIOError:
                continue
            except OSError as e:
                fail('lost', why(e.errno))
            if bytes_ >= P['cap']:
                reason = 'cap'
                break
    last = now()
    for s in made:
        s.shutdown(socket.SHUT_WR)
    until = now() + P['drain']
    for s in made:
        while wait_for(s, False, until):
            try:
                if not s.recv(4096):
                    break
            except OSError:
                break
    tell('sent', int((last - start) * 1e6 + 0.5), bytes_, reason)
    return start

made = listen_for() if P['role'] == 'listen' else connect_to()
tell('idle', *pairs(info(made[0])))
if P['role'] == 'connect' and not P['plain']:
    put(made[0], b'!')
before, own = cores(), own_time()
start = receive(made) if P['way'] == 'receive' else send(made)
load_of(before, cores(), own_time() - own, now() - start)
for s in made:
    tell('flow', *pairs(info(s)))
tell('end')
os._exit(0)
`;
