package window

import "testing"

// TestNothingRunsBesideTheLoop: after its end the toolkit runs what it is given
// on the goroutine of whoever asks.
func TestNothingRunsBesideTheLoop(t *testing.T) {
	show := onLoop(func(run func()) { run() }) // as the toolkit after its end
	ran := 0
	show(func() { ran++ })
	if ran != 1 {
		t.Fatal("what is asked for on the loop's goroutine did not run")
	}
	asked := make(chan struct{})
	go func() {
		defer close(asked)
		show(func() { ran++ })
	}()
	<-asked
	if ran != 1 {
		t.Error("it ran on another goroutine")
	}
}

// TestTheLoopRunsWhatIsAskedForBeside: while the toolkit runs, it takes over
// what others ask for.
func TestTheLoopRunsWhatIsAskedForBeside(t *testing.T) {
	queue := make(chan func())
	show := onLoop(func(run func()) { queue <- run })
	ran := false
	go show(func() { ran = true })
	(<-queue)()
	if !ran {
		t.Error("it did not run on the loop's goroutine")
	}
}

// TestWaitingForTheLoopOnTheLoop runs what is asked for at once: the loop would
// wait for itself.
func TestWaitingForTheLoopOnTheLoop(t *testing.T) {
	show := onLoopNow(func(func()) { t.Error("the loop waits for itself") })
	ran := false
	show(func() { ran = true })
	if !ran {
		t.Error("it did not run")
	}
}

// TestOneByOne: those beside the loop come to it one at a time, and the loop
// itself never waits for them.
func TestOneByOne(t *testing.T) {
	queue := make(chan func())
	show := oneByOne(func(run func()) {
		done := make(chan struct{})
		queue <- func() { defer close(done); run() }
		<-done
	})
	ran := 0
	for range 3 {
		go show(func() { ran++ })
	}
	for range 3 {
		run := <-queue
		select {
		case <-queue:
			t.Fatal("two are in the queue at a time")
		default:
		}
		run2 := 0
		show(func() { run2++ }) // on the loop, while another has its turn
		if run2 != 1 {
			t.Fatal("what the loop asks for itself did not run at once")
		}
		run()
	}
	if ran != 3 {
		t.Errorf("%d of 3 ran", ran)
	}
}
