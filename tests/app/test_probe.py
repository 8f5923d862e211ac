import time
async def test_probe(shed):
    t=time.time()
    async with shed.bench() as b:
        print("start", time.time()-t)
        print(b.text()); print(b.boxes())
        n=0; t=time.time()
        seen=None
        def until(p):
            nonlocal n, seen
            n+=1
            head=(p.rows()[0][40:], p.boxes()[0][1])
            if head!=seen:
                print(p.text()); seen=head
            return p.boxes()[0][1]=="to the till"
        await b.go_on(until)
        print(n, (time.time()-t)/n)
        print(len(b.marks_on_disk()))
