import time
from session.records import disk
async def test_probe(shed, monkeypatch):
    tot=[0.0,0]
    orig=disk.os.fsync
    def f(fd):
        t=time.time(); orig(fd); tot[0]+=time.time()-t; tot[1]+=1
    monkeypatch.setattr(disk.os,"fsync",f)
    async with shed.bench() as b:
        t=time.time()
        n=0
        tt=[0.0]
        s=b.settle
        async def settle():
            t=time.time(); await s(); tt[0]+=time.time()-t
        b.settle=settle
        def until(p):
            nonlocal n
            n+=1
            return p.boxes()[0][1]=="to the till"
        await b.go_on(until)
        print(n, (time.time()-t)/n, "fsync", tot, "settle", tt)
