package main

import (
	"fmt"
	"strconv"
	"strings"

	"fieldsign/questions"
	"fieldsign/questions/catalogue"
)

// rotate computes a station round, by the path of the live game.
func (p *papering) rotate(cat *catalogue.Catalogue, roster catalogue.Roster) error {
	replicas, err := replicasOf(p.replicas, questions.NewNames(cat, roster), cat)
	if err != nil {
		return err
	}
	wish := questions.StationWish{Subjects: split(p.subjects), Stations: p.stations, Each: p.quiz.PerStation, Seed: p.seed, Difficulty: p.difficulty, Replicas: replicas, NoMemory: p.noMemory}
	stations, err := questions.NewBank(cat, roster).Stations(wish)
	if err != nil {
		return err
	}
	p.quiz.Catalogue, p.quiz.Seed = cat, p.seed
	p.quiz.Name = fmt.Sprintf("%s, %d stations of %d", roster.Name, p.stations, p.quiz.PerStation)
	if p.difficulty > 0 {
		p.quiz.Name += fmt.Sprintf(", difficulty %d", p.difficulty)
	}
	if p.noMemory {
		p.quiz.Name += ", no memory"
	}
	p.quiz = p.quiz.Rotating(stations)
	return nil
}

// replicasOf reads "3 skull American beaver, 5 scat red fox".
func replicasOf(list string, names *questions.Names, cat *catalogue.Catalogue) (out []questions.Replica, err error) {
	for item := range strings.SplitSeq(list, ",") {
		words := strings.Fields(item)
		if len(words) == 0 {
			continue
		}
		number, err := strconv.Atoi(words[0])
		if err != nil || len(words) < 3 {
			return nil, fmt.Errorf("--replicas has %q: give the station's number, the subject and the animal, such as 3 skull American beaver", strings.TrimSpace(item))
		}
		name, ok := names.Match(strings.Join(words[2:], " "))
		if !ok {
			return nil, fmt.Errorf("--replicas: no animal in the roster is called %q", strings.Join(words[2:], " "))
		}
		species, _ := cat.Find(name)
		out = append(out, questions.Replica{Station: number, Species: species.Name, Subject: words[1]})
	}
	return out, nil
}
