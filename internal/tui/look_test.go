package tui

import (
	"fmt"
	"os"
	"testing"

	"example.com/vanlog/internal/demo"
	"example.com/vanlog/internal/testkit"
)

func TestLook(t *testing.T) {
	for _, s := range [][2]int{{80, 24}, {120, 40}} {
		b := testkit.Workshop()
		if os.Getenv("LOOK") == "demo" {
			b = demo.Build(testkit.Now)
		}
		d := drive(t, b, s[0], s[1])
		for _, k := range []string{"1", "2", "3", "4"} {
			d.press(k)
			fmt.Println(d.m.View())
			fmt.Println("=====")
		}
		d.press("3", "down", "down", "enter")
		fmt.Println(d.m.View())
		d.press("1", "v")
		fmt.Println(d.m.View())
		d.press("v", "?")
		fmt.Println(d.m.View())
		d.press("esc", "l")
		fmt.Println(d.m.View())
		d.press("esc", "enter")
		fmt.Println(d.m.View())
		d.press("esc", "h")
		fmt.Println(d.m.View())
	}
}
