package settings

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWrittenIsRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "b", "settings.json")
	var s Settings
	for _, f := range Fields() {
		value := "/a folder/ü"
		if len(f.Words) > 0 {
			value = f.Words[len(f.Words)-1]
		}
		var err error
		if s, err = s.With(f.Name, value); err != nil || s.Get(f.Name) != value {
			t.Errorf("%s = %q, %v", f.Name, s.Get(f.Name), err)
		}
	}
	if err := Write(path, s); err != nil {
		t.Fatal(err)
	}
	if got, err := Read(path); err != nil || got != s {
		t.Errorf("read %+v, %v, want %+v", got, err, s)
	}
}

func TestDefaults(t *testing.T) {
	for _, path := range []string{"", filepath.Join(t.TempDir(), "none")} {
		s, err := Read(path)
		if err != nil || s != (Settings{}) {
			t.Errorf("%q: %+v, %v", path, s, err)
		}
	}
	var s Settings
	if s.Get("theme") != "auto" || s.Get("mouse") != "off" || s.Get("photo_folder") != "" || s.Get("x") != "" {
		t.Errorf("the defaults are %q %q", s.Get("theme"), s.Get("mouse"))
	}
}

func TestWrongSettingsAreRefused(t *testing.T) {
	for text, says := range map[string]string{`{"theme": "pink"}`: `theme: "pink" is none of auto, dark, light`, `{"colour": 1}`: "colour", `{`: "settings.json"} {
		path := filepath.Join(t.TempDir(), "settings.json")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if s, err := Read(path); err == nil || !strings.Contains(err.Error(), says) || s != (Settings{}) {
			t.Errorf("%s: %+v, %v", text, s, err)
		}
	}
	if _, err := (Settings{}).With("colour", "x"); err == nil || !strings.Contains(err.Error(), "theme, mouse") {
		t.Errorf("an unknown setting: %v", err)
	}
	if err := Write("", Settings{}); err == nil {
		t.Error("settings are written nowhere")
	}
}

// XDG Base Directory Specification 0.8: a relative path is to be ignored.
func TestFile(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(name string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == name {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	for want, got := range map[string]string{
		filepath.Join("/x", "vanlog", "settings.json"):            File(env("XDG_CONFIG_HOME", "/x", "HOME", "/h")),
		filepath.Join("/h", ".config", "vanlog", "settings.json"): File(env("XDG_CONFIG_HOME", "x", "HOME", "/h")),
		"": File(env()),
	} {
		if got != want {
			t.Errorf("the settings are in %q, want %q", got, want)
		}
	}
}
