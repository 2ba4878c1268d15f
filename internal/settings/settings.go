// Package settings holds what a person wants of vanlog whatever the build: looks, folders. What belongs to one build, such as its units, is kept in the build.
//
// They are a small JSON file that can be edited by hand; a file that is not there means
// the defaults, one that is wrong is refused with its name and never written over unasked.
package settings

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Settings are what a person wants. The zero Settings are the defaults.
type Settings struct {
	Theme        string `json:"theme,omitempty"`         // dark, light or auto; empty: auto
	Mouse        string `json:"mouse,omitempty"`         // on or off; empty: off
	FirstWeekday string `json:"first_weekday,omitempty"` // mon or sun; empty: mon (ISO 8601)
	BackupFolder string `json:"backup_folder,omitempty"` // where backups go that have no name
	PhotoFolder  string `json:"photo_folder,omitempty"`  // where new pictures arrive
}

// Field is a setting by its name in the file.
type Field struct {
	Name  string
	Words []string // that it may be; nil: any text
	About string
}

// Fields are all settings, in order.
func Fields() []Field {
	return []Field{
		{"theme", []string{"auto", "dark", "light"}, "the ground that colours are chosen for"},
		{"mouse", []string{"off", "on"}, "whether the mouse works from the start"},
		{"first_weekday", []string{"mon", "sun"}, "with which day the weeks of a calendar begin"},
		{"backup_folder", nil, "the folder that backups go to"},
		{"photo_folder", nil, "the folder in which new pictures arrive"},
	}
}

// at gives the place of a setting.
func (s *Settings) at(name string) *string {
	return map[string]*string{"theme": &s.Theme, "mouse": &s.Mouse, "first_weekday": &s.FirstWeekday, "backup_folder": &s.BackupFolder, "photo_folder": &s.PhotoFolder}[name]
}

// Get gives a setting by its name, the default where it is not set; empty for an unknown name.
func (s Settings) Get(name string) string {
	at := s.at(name)
	if at == nil {
		return ""
	}
	for _, f := range Fields() {
		if f.Name == name && *at == "" && len(f.Words) > 0 {
			return f.Words[0]
		}
	}
	return *at
}

// With gives the settings with one changed; an empty value is the default. The error names
// an unknown setting, or a word that it cannot be.
func (s Settings) With(name, value string) (Settings, error) {
	for _, f := range Fields() {
		if f.Name != name {
			continue
		}
		value = strings.TrimSpace(value)
		if value != "" && len(f.Words) > 0 && !slices.Contains(f.Words, value) {
			return s, fmt.Errorf("setting %s: %q is none of %s", name, value, strings.Join(f.Words, ", "))
		}
		*s.at(name) = value
		return s, nil
	}
	return s, fmt.Errorf("there is no setting %q, want one of %s", name, strings.Join(names(), ", "))
}

func names() []string {
	var out []string
	for _, f := range Fields() {
		out = append(out, f.Name)
	}
	return out
}

// File gives where settings are kept: in XDG_CONFIG_HOME, else APPDATA, else .config of HOME
// (XDG Base Directory Specification); empty where the surroundings name no such place.
func File(env func(string) string) string {
	switch {
	case filepath.IsAbs(env("XDG_CONFIG_HOME")):
		return filepath.Join(env("XDG_CONFIG_HOME"), "vanlog", "settings.json")
	case env("APPDATA") != "":
		return filepath.Join(env("APPDATA"), "vanlog", "settings.json")
	case env("HOME") != "":
		return filepath.Join(env("HOME"), ".config", "vanlog", "settings.json")
	}
	return ""
}

// Read reads a file of settings; one that is not there, or has no name, gives the defaults.
func Read(path string) (Settings, error) {
	var s Settings
	if path == "" {
		return s, nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, fmt.Errorf("the settings: %w", err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		return Settings{}, fmt.Errorf("the settings in %s: %w", path, err)
	}
	for _, f := range Fields() {
		if _, err := s.With(f.Name, *s.at(f.Name)); err != nil {
			return Settings{}, fmt.Errorf("the settings in %s: %w", path, err)
		}
	}
	return s, nil
}

// Write writes a file of settings, and the folders that it lies in.
func Write(path string, s Settings) error {
	if path == "" {
		return errors.New("there is no place for settings: set XDG_CONFIG_HOME or HOME")
	}
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return fmt.Errorf("the settings: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("the settings: %w", err)
	}
	whole := path + ".new" // so that a full disk leaves the old ones
	if err := os.WriteFile(whole, append(text, '\n'), 0o600); err != nil {
		return fmt.Errorf("the settings: %w", err)
	}
	return os.Rename(whole, path)
}
